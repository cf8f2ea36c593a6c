/**
 * Publications behind the step catalogue.
 *
 * Of each the abstract or an excerpt was read, not the full paper: look them up before quoting them. Names of authors
 * are given where they were seen.
 */
export const SOURCES = {
  tourniquetNorway: "Khan et al. Acta Orthop 2025. doi 10.2340/17453674.2025.43981",
  tourniquetSweden: "W-Dahl et al. Acta Orthop 2026;97:53–9. doi 10.2340/17453674.2026.45363",
  tourniquetTrials: "Ahmed et al. Bone Joint J 2021. doi 10.1302/0301-620X.103B.BJJ-2020-1926.R1",
  tourniquetMigration: "Ledin et al. Acta Orthop 2012. doi 10.3109/17453674.2012.727078",
  tourniquetDepth: "Pfitzner et al. Knee Surg Sports Traumatol Arthrosc 2016. doi 10.1007/s00167-014-3341-6",
  tourniquetThreeArms: "BMC Musculoskelet Disord 2021. doi 10.1186/s12891-021-03968-5",
  lavageHistorical: "Ritter et al. J Bone Joint Surg Am 1994;76:60–5",
  lavagePartial: "Int Orthop 2009. doi 10.1007/s00264-009-0736-y",
  lavagePullOut: "Schlegel et al. Int Orthop 2011. doi 10.1007/s00264-010-1137-y",
  lavageAndGun: "Schlegel et al. Int Orthop 2014. doi 10.1007/s00264-014-2303-4",
  lavageReview: "Di Maria et al. J Exp Orthop 2024. doi 10.1002/jeo2.12027",
  cementingReview: "Refsum et al. Acta Orthop 2019. doi 10.1080/17453674.2019.1657333",
  surveyNorway: "Khan et al. BMC Musculoskelet Disord 2023;24:900. doi 10.1186/s12891-023-07040-2",
  surveyUnitedStates: "J Arthroplasty 2023. doi 10.1016/j.arth.2022.12.034",
  drilling: "Ahn, Jeong and Lee. Knee (year not confirmed)",
  applicationMethods: "Schlegel et al. Int Orthop. doi 10.1007/s00264-014-2468-x",
  vacuumLaboratory: "Geiger et al. Clin Orthop 2001;382:258–66",
  mixingTimes: "Sigmund et al. J Surg 2018. doi 10.29011/2575-9760.001153",
  gloveOrganisms: "Stage of contamination, 26 knees, 2025. doi 10.1055/a-2684-8517",
  glovePerforation: "J Arthroplasty 2012. doi 10.1016/j.arth.2012.01.021",
  trayBond: "Billi et al. Tray–cement bond, 2018 conference abstract",
  antibioticRegisters: "Leta et al. JAMA Netw Open 2024. doi 10.1001/jamanetworkopen.2024.12898",
  antibioticHighRisk: "Leta et al. JBJS Open Access 2025;10(3):e25.00061",
  antibioticTrials: "Sebastian et al. J Orthop Translat 2020. doi 10.1016/j.jot.2020.04.005",
  penetrationControl: "Clin Orthop 1984;185:155–64",
  storageTemperature: "Koh et al. J Orthop Surg Res 2015. doi 10.1186/s13018-015-0320-7",
  applicationCadaver:
    "Rodríguez-Collell et al. Bone Joint Res 2021. doi 10.1302/2046-3758.108.BJR-2020-0524.R1",
  cementVolume: "Keintzel et al. Knee Surg Sports Traumatol Arthrosc 2025. doi 10.1002/ksa.12582",
  cementingConsensus: "Hampton et al. Bone Jt Open 2023. doi 10.1302/2633-1462.49.BJO-2023-0032.R1",
  retainedCement: "Lin et al. J Surg 2021. doi 10.29011/2575-9760.001441",
} as const;

export type SourceKey = keyof typeof SOURCES;
