import { describe, expect, it } from "vitest";
import { renderIndex } from "../../src/report/index.ts";
import { faultsOf, HOSTILE } from "./hostile.ts";

describe("renderIndex()", () => {
  it("links every report in the order given, stamped where its data are invented", () => {
    const page = renderIndex([
      { id: "tourniquet", title: "Tourniquet", subtitle: "A question", stamp: "INVENTED DATA" },
      { id: "verification", title: "Verification", subtitle: "Published values beside ours" },
    ]);
    expect([...page.matchAll(/<a href="([^"]+)"/g)].map((match) => match[1])).toEqual([
      "tourniquet/index.html",
      "verification/index.html",
    ]);
    expect(page.match(/stamp-small">/g)).toHaveLength(1);
  });

  it("says so where there is no report", () => {
    expect(renderIndex([])).toContain("No report has been written yet.");
  });

  it.each(HOSTILE)("shows words as text: %s", (_name, text) => {
    expect(faultsOf(renderIndex([{ id: "a", title: text, subtitle: text, stamp: text }]))).toEqual([]);
  });
});
