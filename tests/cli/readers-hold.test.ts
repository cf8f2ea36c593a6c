import { cpSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { contentHash } from "../../src/base/content-hash.ts";
import { adherence } from "../../src/cli/commands/adherence.ts";
import { compare } from "../../src/cli/commands/compare.ts";
import { feasibility } from "../../src/cli/commands/feasibility.ts";
import { report } from "../../src/cli/commands/report.ts";
import { verify } from "../../src/cli/commands/verify.ts";
import { PLAN } from "../study/small-export.ts";
import { saidBy, smallProject } from "./small-project.ts";

const aged = (from: number) => ({
  eligibility: [...PLAN.eligibility, { label: "old enough", field: "role:ageYears", from }],
});
const { folder, notebook } = smallProject();
const [first, out] = [join(folder, "first"), join(folder, "second")];
const held = join(first, "a-question");
const made = join(out, "a-question");
let path: string;
beforeAll(async () => {
  await saidBy(() => report([notebook("from-46.ts", aged(46))], { audience: "committee", out: first }));
  path = notebook("from-47.ts", aged(47));
  await saidBy(() => report([path], { audience: "committee", out, readersHold: [held] }));
}, 60_000);

const results = (at: string) => JSON.parse(readFileSync(join(at, "results.json"), "utf8"));

describe("mantle report --readers-hold", () => {
  it("names the report by its hash, in results.json and on the page, without its place", () => {
    const hash = contentHash(readFileSync(join(held, "results.json")));
    expect(results(made).readersHold).toEqual([{ id: "a-question", audience: "committee", hash }]);
    const page = readFileSync(join(made, "index.html"), "utf8");
    expect(page).toContain(`a-question (committee), results.json SHA-256 ${hash}. Others were not.`);
    expect(page).toContain("--readers-hold (the folder of a-question below)");
    expect(page).toContain("† as in the report before, which the same readers hold");
    expect(page).not.toContain(folder);
    expect(readFileSync(join(held, "index.html"), "utf8")).toContain(
      "none was named, so none was taken into account",
    );
  });

  it("tells no count that differs from the one before by a few", () => {
    const [before, after] = [results(held), results(made)].map(
      ({ told }) =>
        new Map<string, number | undefined>(told.counts.map((one: Told) => [one.key, exact(one)])),
    );
    const apart = [...(after ?? [])].map(([key, units]) =>
      Math.abs((units ?? 0) - (before?.get(key) ?? units ?? 0)),
    );
    expect(apart.filter((units) => units > 0).length).toBeGreaterThan(5);
    expect(apart.filter((units) => units > 0 && units < 5)).toEqual([]);
  });

  it("is made again with the same bytes by verify, given the same report, and not without it", async () => {
    const again = await saidBy(() => verify(made, { notebook: path, readersHold: [held] }));
    expect(again.said).toMatch(/^Same: all \d+ files/);
    await expect(verify(made, { notebook: path })).rejects.toThrow(
      /made for readers who hold a-question \(SHA-256 [0-9a-f]{12}…\); name each folder with --readers-hold/,
    );
    await expect(verify(held, { notebook: path, readersHold: [made] })).rejects.toThrow(
      /leave --readers-hold out/,
    );
    const other = join(folder, "other");
    cpSync(held, other, { recursive: true });
    writeFileSync(join(other, "results.json"), `${readFileSync(join(held, "results.json"), "utf8")} `);
    const { code, said } = await saidBy(() => verify(made, { notebook: path, readersHold: [other] }));
    expect(code).toBe(1);
    expect(said).toMatch(
      /Reports that the readers hold: a-question \([0-9a-f]{12}…\) → a-question \([0-9a-f]{12}…\)/,
    );
  });

  it("refuses to write over the report that is held, an analysts' copy, and one that says nothing of its counts", async () => {
    const making = (readersHold: string[], to = out) =>
      report([path], { audience: "committee", out: to, readersHold });
    await expect(making([held], first)).rejects.toThrow(/is the report that the readers hold, and stays/);
    const analysts = join(folder, "analysts");
    await saidBy(() => report([path], { audience: "analyst", out: analysts }));
    await expect(making([join(analysts, "a-question")])).rejects.toThrow(
      /an analysts' copy, which shows every count/,
    );
    const silent = join(folder, "silent");
    mkdirSync(silent);
    const { told: _told, ...rest } = results(held);
    writeFileSync(join(silent, "results.json"), JSON.stringify(rest));
    await expect(making([silent])).rejects.toThrow(/does not say what its counts are/);
    await expect(making([join(folder, "nowhere")])).rejects.toThrow(/no such folder/);
  });
});

describe("mantle adherence and mantle feasibility with --readers-hold", () => {
  const common = { audience: "committee", stratum: [], readersHold: [held] };
  it.each([
    ["adherence", (out: string) => adherence(folder, { ...common, out, atLeast: [], atMost: [] })],
    ["feasibility", (out: string) => feasibility(folder, { ...common, out, year: "10", periods: "none" })],
  ])(
    "%s names the report on its page and in its command, and gives no number as before",
    async (name, make) => {
      const to = join(folder, name);
      await saidBy(() => make(to));
      const hash = contentHash(readFileSync(join(held, "results.json")));
      expect(results(to).readersHold).toEqual([{ id: "a-question", audience: "committee", hash }]);
      const page = readFileSync(join(to, "index.html"), "utf8");
      expect(page).toContain(`a-question (committee), results.json SHA-256 ${hash}. Others were not.`);
      expect(page).toContain(
        `npx mantle ${name} (the export below, asked as the plan says) --readers-hold (the folder of a-question below)`,
      );
      expect(JSON.stringify(results(to).exhibits)).not.toContain("asBefore");
      await expect(make(held)).rejects.toThrow(/is the report that the readers hold, and stays/);
    },
  );
});

describe("mantle compare", () => {
  it("says how many numbers two reports give away together and where, never which", async () => {
    const loose = join(folder, "loose");
    await saidBy(() => report([path], { audience: "committee", out: loose }));
    const { said } = await saidBy(() => compare(held, join(loose, "a-question")));
    const [warning = "", ...lines] = said.split("\n");
    expect(warning).toMatch(
      /^Do not give both to the same readers: \d+ numbers from 1 to below 5 would follow from the two\.$/,
    );
    expect(lines).toContain("  From the export to the groups compared: compared");
    expect(lines).toContain("  Make the later one with --readers-hold and the folder of the earlier.");
    const places = lines.slice(
      0,
      lines.findIndex((line) => line.startsWith("  …")),
    );
    expect(places.join(" ").replaceAll(/\d+[–-]\d+|\d+ years?/g, "")).not.toMatch(/\d/);
  });

  it("says nothing of the kind where the second was made for readers of the first, or is another reader's copy", async () => {
    const external = join(folder, "external");
    await saidBy(() => report([join(folder, "from-46.ts")], { audience: "external", out: external }));
    for (const other of [made, join(external, "a-question")]) {
      const { said } = await saidBy(() => compare(held, other));
      expect(said).not.toContain("Do not give both");
      expect(said).toContain("The reports differ");
    }
  });
});

interface Told {
  readonly key: string;
  readonly low?: number;
  readonly high?: number;
}

function exact({ low, high }: Told): number | undefined {
  return low === high ? low : undefined;
}
