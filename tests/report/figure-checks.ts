/** Texts of an svg at an attribute value: enough to find a tick and the numbers under it. */
export interface PlacedText {
  readonly x: number;
  readonly y: number;
  readonly text: string;
}

export function idsOf(markup: string): string[] {
  return [...markup.matchAll(/\sid="([^"]*)"/g)].map((match) => match[1] ?? "");
}

/** Ids a figure points to: labels, fills, clips. */
export function referencesOf(markup: string): string[] {
  const labels = [...markup.matchAll(/aria-labelledby="([^"]*)"/g)].flatMap((match) =>
    (match[1] ?? "").split(" "),
  );
  const urls = [...markup.matchAll(/url\(#([^)]*)\)/g)].map((match) => match[1] ?? "");
  return [...labels, ...urls];
}

/** Texts that carry x and y themselves: all but those of the axes. */
export function placedTexts(svg: string): PlacedText[] {
  return [...svg.matchAll(/<text([^>]*)>([^<]*)<\/text>/g)].flatMap(([, attributes = "", text = ""]) => {
    const x = /\sx="([^"]*)"/.exec(attributes)?.[1];
    const y = /\sy="([\d.-]+)"/.exec(attributes)?.[1];
    return x === undefined || y === undefined ? [] : [{ x: Number(x), y: Number(y), text }];
  });
}

/** Labels of the years: the only texts that the plot hangs below the point they stand at. */
export function yearTicks(svg: string): PlacedText[] {
  const texts = svg.matchAll(
    /<text transform="translate\(([\d.-]+),([\d.-]+)\)" y="0.71em">([^<]*)<\/text>/g,
  );
  return [...texts].map(([, x, y, text]) => ({ x: Number(x), y: Number(y), text: text ?? "" }));
}
