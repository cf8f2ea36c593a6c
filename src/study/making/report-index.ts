import { UsageError } from "../../base/errors.ts";
import { renderIndex } from "../../report/render-index.ts";
import { resultsRecord } from "./results-record.ts";

/**
 * The page that lists the reports of a folder, from the text of each one's results.json by its path.
 *
 * @throws UsageError naming the file that holds no results.
 */
export function reportIndex(results: ReadonlyMap<string, string>): string {
  const entries = [...results].map(([path, text]) => {
    const result = resultsRecord(text);
    if (result === undefined) {
      throw new UsageError(
        "no-results",
        `${path}: holds no results of a report, so no index was written; remove that folder or run its report again`,
      );
    }
    // What an older version left out prints as a blank.
    const [title, subtitle] = [words(result.title), words(result.subtitle)];
    // The folder is what a link leads to; a page of the checks may lie in any.
    const id = path.split(/[\\/]/).at(-2) ?? words(result.id);
    return typeof result.stamp === "string"
      ? { id, title, subtitle, stamp: result.stamp }
      : { id, title, subtitle };
  });
  return renderIndex(entries.sort((one, two) => (one.id < two.id ? -1 : 1)));
}

function words(value: unknown): string {
  return typeof value === "string" ? value : "";
}
