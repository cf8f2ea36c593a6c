import type { LockState } from "./lock-state.ts";

/** What a report says about the lock of its plan: terms with a sentence each, then every change. */
export interface LockWords {
  readonly items: readonly { readonly term: string; readonly text: string }[];
  readonly changes: readonly string[];
}

/** The words of a lock for a report made from the export with the given hash. */
export function lockWords(lock: LockState, exportHash: string): LockWords {
  if (lock.state === "not locked") {
    return {
      items: [
        {
          term: "Lock of the plan",
          text: "Not locked: nothing shows that the plan stood before the results were seen.",
        },
      ],
      changes: [],
    };
  }
  return {
    items: [
      { term: "Lock of the plan", text: verdict(lock) },
      { term: "Locked plan", text: `SHA-256 ${lock.planHash}, in ${lock.file}` },
      { term: "Stated by the author, not verified", text: statements(lock, exportHash) },
      ...(lock.replaced.length === 0
        ? []
        : [
            {
              term: "Earlier locks",
              text: `This lock took the place of ${lock.replaced.length} before it; their plans: SHA-256 ${lock.replaced.join(", ")}`,
            },
          ]),
    ],
    changes: lock.changes,
  };
}

type Locked = Exclude<LockState, { readonly state: "not locked" }>;

function verdict({ state, changes, textChanged, imports }: Locked): string {
  if (state === "changed since it was locked") {
    const places = changes.length === 1 ? "in one place" : `in ${changes.length} places`;
    return `Changed since it was locked, ${places}: each is listed below.`;
  }
  const beside = [
    ...(textChanged
      ? ["the notebook's own text was changed since (comments, layout or sections of its own)"]
      : []),
    ...(imports.locked
      ? imports.changed.map((file) => `${file}, which the notebook imports, is not that of the lock`)
      : ["files that the notebook imports were not locked, for the lock is of an earlier version of Mantle"]),
  ];
  if (beside.length > 0) return `This is the locked plan. Beside it, ${beside.join("; ")}.`;
  return "This is the locked plan, and the notebook's text and every file that it imports by a relative path are those of the lock.";
}

function statements({ stated }: Locked, exportHash: string): string {
  const { depositedAt, depositedOn, exportHash: named } = stated;
  const deposited = [
    ...(depositedAt === undefined ? [] : [`at ${depositedAt}`]),
    ...(depositedOn === undefined ? [] : [`on ${depositedOn}`]),
  ];
  return [
    deposited.length === 0 ? "No deposit is stated." : `Deposited ${deposited.join(" ")}.`,
    ...(named === undefined ? [] : [exportWords(named === exportHash)]),
  ].join(" ");
}

function exportWords(same: boolean): string {
  return same
    ? "The export named beside the lock is the one analysed here."
    : "The export named beside the lock is another than the one analysed here.";
}
