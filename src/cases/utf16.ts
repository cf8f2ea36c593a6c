/** Code units decoded at a time: far below the longest text the engine can hold. */
const PIECE = 1 << 20;

export type DecodedUtf16 =
  | { readonly decoded: true; readonly bytes: Uint8Array }
  | { readonly decoded: false; readonly line: number };

/**
 * UTF-8 of text in UTF-16, its byte order mark included; or the line, counted from 1, on which it is no UTF-16.
 *
 * Half a surrogate pair is refused: it would come out as a replacement sign, another text than was written.
 */
export function utf8OfUtf16(bytes: Uint8Array, order: "utf-16le" | "utf-16be"): DecodedUtf16 {
  const text = Buffer.from(bytes);
  if (text.length % 2 === 1) return { decoded: false, line: lastLine(text, order) };
  if (order === "utf-16be") text.swap16();
  const pieces: Buffer[] = [];
  let line = 1;
  for (let at = 0; at < text.length; ) {
    const end = wholePair(text, Math.min(at + 2 * PIECE, text.length));
    const piece = text.toString("utf16le", at, end);
    const loneAt = loneSurrogate(piece);
    if (loneAt >= 0) return { decoded: false, line: line + lineEnds(piece.slice(0, loneAt)) };
    line += lineEnds(piece);
    pieces.push(Buffer.from(piece, "utf8"));
    at = end;
  }
  return { decoded: true, bytes: Buffer.concat(pieces) };
}

function lastLine(text: Buffer, order: "utf-16le" | "utf-16be"): number {
  const whole = text.subarray(0, text.length - 1);
  if (order === "utf-16be") whole.swap16();
  let line = 1;
  for (let at = 0; at < whole.length; at += 2 * PIECE) {
    line += lineEnds(whole.toString("utf16le", at, Math.min(at + 2 * PIECE, whole.length)));
  }
  return line;
}

/** The end moved so that no line end in two signs and no surrogate pair is cut. */
function wholePair(text: Buffer, end: number): number {
  let moved = end;
  while (moved < text.length) {
    const last = text.readUInt16LE(moved - 2);
    if (last !== 0x0d && (last < 0xd800 || last > 0xdbff)) break;
    moved += 2;
  }
  return moved;
}

function loneSurrogate(text: string): number {
  return text.search(/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/);
}

function lineEnds(text: string): number {
  return text.match(/\r\n|\r|\n/g)?.length ?? 0;
}
