import type fastCheck from "fast-check";
import { vi } from "vitest";

type Assert = typeof fastCheck.assert;

const MOST_DRAWS = 2;

/** Every surviving mutant pays for all draws of each property that covers it. */
vi.mock("fast-check", async (original) => {
  const everything = (await original<{ default: typeof fastCheck }>()).default;
  const assert = (...[property, settings]: Parameters<Assert>) =>
    everything.assert(property, { ...settings, numRuns: MOST_DRAWS });
  return { default: { ...everything, assert } };
});

/** An endless loop is a mutant that runs ten times as often as in all tests together, rather than a hundred times. */
const mutation = (globalThis as { __stryker__?: { hitLimit?: number } }).__stryker__;
if (mutation?.hitLimit !== undefined) mutation.hitLimit /= 10;
