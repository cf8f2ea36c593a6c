/** Where a page is read. */
interface Place {
  readonly page: DataView;
  offset: number;
}

/**
 * Whether no run in a page claims more values than the page has: of its levels, and of the words of a dictionary.
 *
 * The library writes out as many values as a run claims, so that one damaged number would end the process.
 */
export function hasSoundRuns(
  bytes: Uint8Array,
  values: number,
  { levels, words }: { readonly levels: "none" | "with length"; readonly words: boolean },
): boolean {
  const place: Place = { page: new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength), offset: 0 };
  if (levels === "with length") {
    const end = place.page.getUint32(0, true) + 4;
    place.offset = 4;
    // Levels of a flat column are one bit.
    if (!(end <= bytes.length && runsFit(place, end, 1, values))) return false;
    place.offset = end;
  }
  if (!words || place.offset >= bytes.length) return true;
  const width = place.page.getUint8(place.offset);
  place.offset += 1;
  return width <= 32 && (width === 0 || runsFit(place, bytes.length, width, values));
}

/** Levels of the second page format stand by themselves, without a length. */
export function hasSoundLevels(bytes: Uint8Array, values: number): boolean {
  const page = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return runsFit({ page, offset: 0 }, bytes.length, 1, values);
}

function runsFit(place: Place, end: number, width: number, values: number): boolean {
  let seen = 0;
  while (seen < values && place.offset < end) {
    const header = variableNumber(place);
    if ((header & 1) === 1) {
      // Eight values at a time, padded by some writers; it is the bytes that bound them.
      const groups = header >>> 1;
      seen += 8 * groups;
      place.offset += groups * width;
    } else {
      const count = header >>> 1;
      if (count > values) return false;
      seen += count;
      place.offset += (width + 7) >> 3;
    }
  }
  return true;
}

/** Seven bits a byte, the lowest first, while the eighth says that there are more. */
function variableNumber(place: Place): number {
  let [number, shift] = [0, 0];
  for (;;) {
    const byte = place.page.getUint8(place.offset);
    place.offset += 1;
    number |= (byte & 0x7f) << shift;
    if (byte < 0x80) return number >>> 0;
    shift += 7;
    if (shift > 28) throw new RangeError("a number runs over");
  }
}
