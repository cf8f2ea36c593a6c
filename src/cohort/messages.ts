/** Why a row of the cohort has no follow-up, in words for readers. */
export const LEFT_OUT_MESSAGES = {
  "operation-date-missing": "no operation date, so time has no start; left out of follow-up",
  "last-contact-missing":
    "neither revised nor dead, and no last contact says when follow-up ended; left out of follow-up",
  "ends-before-operation": "follow-up ends before the operation; correct the dates; left out of follow-up",
  "exit-not-after-entry": "follow-up ends on or before the day of entry, so it was never at risk; left out",
  "follow-up-time-missing": "no follow-up time; left out of follow-up",
  "follow-up-time-out-of-range":
    "follow-up time below 0 or beyond what can be counted; left out of follow-up",
  "status-missing": "nothing says how follow-up ended; left out of follow-up",
} as const;

export type LeftOutCode = keyof typeof LEFT_OUT_MESSAGES;
