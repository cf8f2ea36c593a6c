import type { Block } from "./block.ts";

export interface ProvenanceFacts {
  readonly mantleVersion: string;
  /** SHA-256 of what went in, by name: export, descriptor, plan, notebook, lock file. */
  readonly hashes: readonly { readonly what: string; readonly sha256: string }[];
  /** The command that makes the same bytes again. */
  readonly command: string;
  /** Date up to which the export reaches, as its supplier states it. */
  readonly dataCut?: string | undefined;
}

/**
 * What a reader needs to make the same report again.
 *
 * No clock, path, user or machine: two runs on two machines state the same.
 */
export function provenance(facts: ProvenanceFacts): Block {
  const { mantleVersion, hashes, command, dataCut } = facts;
  return {
    kind: "facts",
    items: [
      { term: "Made with", text: `Mantle ${mantleVersion}` },
      { term: "Data cut", text: dataCut ?? "not stated" },
      { term: "Command", text: command },
      ...hashes.map(({ what, sha256 }) => ({ term: `${what}, SHA-256`, text: sha256 })),
    ],
  };
}
