/** Name of the lock beside a notebook: "my-question.ts" → "my-question.lock.json". */
export function lockName(notebook: string): string {
  return notebook.replace(/\.[^.]+$/, "").concat(".lock.json");
}
