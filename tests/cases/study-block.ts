export type Json = Record<string, unknown>;

/** The `study` block of invented exports. */
export const STUDY: Json = {
  invented: true,
  stamp: "INVENTED",
  unit: { one: "knee", many: "knees" },
  person: { one: "patient", many: "patients" },
  cementedKnees: true,
  revisionCapture: "national",
  deathCapture: "national",
  exactDates: true,
};
