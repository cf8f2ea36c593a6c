import { type Finding, type FindingGroup, type Findings, SEVERITIES, type Severity } from "./finding.ts";

const EXAMPLES_KEPT = 3;

interface OpenGroup {
  code: string;
  severity: Severity;
  field: string | undefined;
  count: number;
  first: Finding[];
}

/** Collects findings: every one is counted, the first three of each code and field are kept. */
export interface FindingLog {
  add(finding: Finding): void;
  /** The findings so far. */
  findings(): Findings;
}

export function findingLog(): FindingLog {
  const groups = new Map<string, OpenGroup>();
  return {
    add(finding) {
      const key = `${finding.code}\u0000${finding.field ?? ""}`;
      const group = groups.get(key);
      if (group === undefined) {
        const { code, severity, field } = finding;
        groups.set(key, { code, severity, field, count: 1, first: [finding] });
        return;
      }
      group.count += 1;
      if (group.first.length < EXAMPLES_KEPT) group.first.push(finding);
    },
    findings: () => gather([...groups.values()]),
  };
}

/** Puts the findings of several steps in one record. */
export function joinFindings(...parts: readonly Findings[]): Findings {
  const groups = parts.flatMap((part) => part.groups);
  return summed(groups);
}

function gather(open: readonly OpenGroup[]): Findings {
  return summed(open.map(({ field, ...rest }) => (field === undefined ? rest : { ...rest, field })));
}

function summed(groups: readonly FindingGroup[]): Findings {
  const total = (severity: Severity) =>
    groups.filter((group) => group.severity === severity).reduce((sum, group) => sum + group.count, 0);
  const ordered = SEVERITIES.flatMap((severity) => groups.filter((group) => group.severity === severity));
  return { errors: total("error"), warnings: total("warning"), notes: total("note"), groups: ordered };
}
