/** Name of the figure that sets crude and net risk beside each other. */
export const RISK_PAIR = { id: "crude-and-net-risk", title: "Crude and net risk beside each other" } as const;
