import type { FieldProposal } from "./field-proposal.ts";
import { OPEN } from "./type-guess.ts";

/** The `study` block as far as a file can say it; the rest is for the person who knows where the file came from. */
export function studyProposal(fields: readonly FieldProposal[]): {
  readonly study: Readonly<Record<string, unknown>>;
  readonly open: readonly string[];
} {
  const roles = fields.map(({ field }) => String(field.role ?? ""));
  const has = (role: string) => roles.includes(role);
  const hasDates = fields.some(({ field }) => field.type === "date");
  const isCemented = roles.some((role) => role.startsWith("technique:") || role === "cementCode");
  const hasDurations = has("followUpTime") && has("status");
  const needsCut = has("operationDate") && !has("lastFollowUpDate");
  return {
    study: {
      invented: OPEN,
      unit: { one: "knee", many: "knees" },
      person: { one: "patient", many: "patients" },
      cementedKnees: isCemented ? true : OPEN,
      ...(needsCut && { dataCut: OPEN }),
      revisionCapture: OPEN,
      deathCapture: OPEN,
      exactDates: hasDates,
    },
    open: [
      'study.invented: true where no row describes a real person (then add "stamp"), else false',
      ...(isCemented ? [] : ["study.cementedKnees: true where the knees were cemented, else false"]),
      "study.revisionCapture and study.deathCapture: national, ownUnit or unknown",
      ...(needsCut ? ["study.dataCut: the day up to which revisions and deaths are known"] : []),
      ...(has("caseId") ? [] : ['no column has the role "caseId"; one must name each case']),
      ...(has("operationDate") || hasDurations
        ? []
        : ['no column has the role "operationDate", nor two the roles "followUpTime" and "status"']),
      ...(has("operationDate") && !has("revisionDate") && !hasDurations
        ? ['no column has the role "revisionDate"; nothing else says what was revised']
        : []),
    ],
  };
}
