/** The four states in which a technique step can be recorded. Blank never means no. */
export const RECORDED_STATES = ["done", "notDone", "notApplicable", "notRecorded"] as const;
export type RecordedState = (typeof RECORDED_STATES)[number];

/** The states in words for readers. */
export const RECORDED_STATE_WORDS: Readonly<Record<RecordedState, string>> = {
  done: "done",
  notDone: "not done",
  notApplicable: "not applicable",
  notRecorded: "not recorded",
};
