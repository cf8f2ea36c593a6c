// Written by “mantle new” from a dictionary: ../data/demo/datapackage.json
// When it changes: npx mantle new --fields-only --export (the folder of that file)

/** Invented export of cemented knee replacements: what a plan may name. */
export interface InventedCementedKnees {
  readonly numbers: "role:ageYears" | "age_years" | "role:bmi" | "bmi";
  readonly days: "role:operationDate" | "operation_date";
  readonly codes: {
    /** Side */
    readonly "role:side": "left" | "right";
    readonly side: "left" | "right";
    /** Sex */
    readonly "role:sex": "female" | "male";
    readonly sex: "female" | "male";
    /** ASA grade */
    readonly "role:asaGrade": "1" | "2" | "3" | "4";
    readonly asa_grade: "1" | "2" | "3" | "4";
    /** Diagnosis */
    readonly "role:diagnosis": "osteoarthritis" | "inflammatory" | "post_traumatic";
    readonly diagnosis: "osteoarthritis" | "inflammatory" | "post_traumatic";
    /** Operator */
    readonly "role:operatorGrade": "consultant" | "trainee";
    readonly operator_grade: "consultant" | "trainee";
    /** Fixation */
    readonly "role:fixation": "cemented" | "hybrid";
    readonly fixation: "cemented" | "hybrid";
    /** Stem */
    readonly "role:stem": "no" | "yes";
    readonly stem: "no" | "yes";
    /** Implant */
    readonly "role:implantCode": "I1" | "I2" | "I3" | "I4";
    readonly implant_code: "I1" | "I2" | "I3" | "I4";
    /** Cement */
    readonly "role:cementCode": "M1" | "M2" | "M3" | "M4" | "M5" | "M6";
    readonly cement_code: "M1" | "M2" | "M3" | "M4" | "M5" | "M6";
    /** Cement viscosity */
    readonly "role:viscosity": "high" | "medium" | "low";
    readonly viscosity: "high" | "medium" | "low";
    /** Sclerotic bone */
    readonly "role:sclerosis": "none" | "mild" | "marked";
    readonly sclerosis: "none" | "mild" | "marked";
    /** Tourniquet used */
    readonly "role:technique:tourniquet": "yes" | "no";
    readonly tourniquet: "yes" | "no";
    /** Bone bed lavage */
    readonly "role:technique:pulsedLavage": "pulsed" | "syringe";
    readonly lavage: "pulsed" | "syringe";
    /** Drilling of sclerotic bone */
    readonly "role:technique:drilling": "yes" | "no" | "na";
    readonly drilling: "yes" | "no" | "na";
    /** Cement mixing */
    readonly "role:technique:vacuumMixing": "vacuum" | "bowl";
    readonly mixing: "vacuum" | "bowl";
    /** Outer gloves changed before cementing */
    readonly "role:technique:gloveChange": "yes" | "no";
    readonly glove_change: "yes" | "no";
    /** Antibiotic-loaded cement */
    readonly "role:technique:antibioticCement": "yes" | "no";
    readonly antibiotic_cement: "yes" | "no";
    /** Components seated in the working phase of the cement */
    readonly "role:technique:seatedInWorkingPhase": "yes" | "no";
    readonly seated_in_working_phase: "yes" | "no";
    /** Where tibial cement was applied */
    readonly "role:technique:cementOnBoneAndImplant": "both" | "bone" | "implant";
    readonly cement_on: "both" | "bone" | "implant";
    /** Cement pressurised by any method */
    readonly "role:technique:pressurisation": "yes" | "no";
    readonly pressurised: "yes" | "no";
    /** Component cemented first */
    readonly "role:technique:tibiaFirst": "tibia" | "femur" | "together";
    readonly cementing_order: "tibia" | "femur" | "together";
    /** Leg position while the cement set */
    readonly "role:technique:extensionAtCure": "extension" | "flexion";
    readonly leg_at_cure: "extension" | "flexion";
    /** Knee kept still until the cement had set */
    readonly "role:technique:stillUntilSet": "yes" | "no";
    readonly still_until_set: "yes" | "no";
    /** Check for excess cement, including behind the knee */
    readonly "role:technique:excessCheck": "yes" | "no";
    readonly excess_check: "yes" | "no";
    /** Invented row */
    readonly invented: "invented";
  };
  readonly texts: "role:centre" | "centre" | "role:surgeon" | "surgeon";
  readonly steps:
    | "tourniquet"
    | "pulsedLavage"
    | "drilling"
    | "vacuumMixing"
    | "gloveChange"
    | "antibioticCement"
    | "seatedInWorkingPhase"
    | "cementOnBoneAndImplant"
    | "pressurisation"
    | "tibiaFirst"
    | "extensionAtCure"
    | "stillUntilSet"
    | "excessCheck";
  readonly reasons:
    | "infection"
    | "fracture"
    | "loosening"
    | "instability"
    | "wear"
    | "malalignment"
    | "pain"
    | "patella";
  readonly statuses: never;
}
