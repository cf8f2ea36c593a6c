import { renderIndex } from "../report/render-index.ts";

/** The page that lists the reports of a folder, from the text of each one's results.json. */
export function reportIndex(results: readonly string[]): string {
  const entries = results.map((text) => {
    // Written by this package; what an older version left out prints as a blank.
    const result = JSON.parse(text) as { id?: string; title?: string; subtitle?: string; stamp?: string };
    const { id = "", title = "", subtitle = "", stamp } = result;
    return stamp === undefined ? { id, title, subtitle } : { id, title, subtitle, stamp };
  });
  return renderIndex(entries.sort((one, two) => (one.id < two.id ? -1 : 1)));
}
