const NUMBER = /(?<![\w.])[−-]?\d[\d,]*(?:\.\d+)?(?![\w])/g;
const QUOTED = /"([^"]*)"/g;

/**
 * What a comment says and a value does not hold: every number, to as many decimals as it is written with, and every quoted
 * text must be somewhere in the value.
 */
export function missingFrom(value: unknown, said: string): string[] {
  const { numbers, texts } = contents(value);
  const quoted = [...said.matchAll(QUOTED)].map(([, text = ""]) => text);
  const words = said.replace(QUOTED, "").replaceAll(/[\d,]*\d %/g, "");
  const written = (words.match(NUMBER) ?? []).map((text) => text.replace(/,$/, ""));
  return [
    ...quoted.filter((text) => !texts.some((found) => found.includes(text))),
    ...written.filter((text) => !numbers.some((number) => isWritten(number, text))),
    ...(said.match(/\b(true|false)\b/g) ?? []).filter((text) => !texts.includes(text)),
  ];
}

function isWritten(number: number, text: string): boolean {
  const plain = Number(text.replace("−", "-").replaceAll(",", ""));
  const decimals = /\.(\d+)$/.exec(text)?.[1]?.length ?? 0;
  const half = 0.5 / Number(`1e${decimals}`);
  return Math.abs(number - plain) <= half * (1 + 1e-9);
}

function contents(value: unknown): { numbers: number[]; texts: string[] } {
  const [numbers, texts]: [number[], string[]] = [[], []];
  const seen = new Set<unknown>();
  const visit = (part: unknown): void => {
    if (typeof part === "number") numbers.push(part);
    else if (typeof part === "string") texts.push(part);
    else if (typeof part === "boolean") texts.push(String(part));
    else if (ArrayBuffer.isView(part)) for (const one of part as Float64Array) numbers.push(one);
    else if (part instanceof Map) for (const one of part) visit(one);
    else if (typeof part === "object" && part !== null && !seen.has(part)) {
      seen.add(part);
      for (const [key, one] of Object.entries(part)) {
        texts.push(key);
        visit(one);
      }
    }
  };
  visit(value);
  return { numbers, texts };
}
