import { isRecord } from "../../base/is-record.ts";

/** What the text of a results.json holds, or undefined where it is no JSON record. */
export function resultsRecord(text: string): Readonly<Record<string, unknown>> | undefined {
  try {
    const value: unknown = JSON.parse(text);
    // Any record will do: each reader looks at the members it wants.
    return isRecord(value) ? value : undefined;
  } catch {
    return undefined;
  }
}
