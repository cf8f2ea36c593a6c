import fc from "fast-check";

/** One change of a file's bytes; places are shares of its length, so that they fit every file. */
export interface Mutation {
  readonly kind: (typeof MUTATIONS)[number];
  readonly place: number;
  readonly length: number;
  readonly byte: number;
}

const MUTATIONS = ["set", "flip", "insert", "delete", "repeat", "cut", "swap", "mark"] as const;

/** Bytes that mean something to some format. */
const MARKS = [
  0x00, 0x09, 0x0a, 0x0d, 0x20, 0x22, 0x27, 0x2c, 0x2e, 0x3b, 0x7c, 0x80, 0x81, 0xc3, 0xd8, 0xfe, 0xff,
];

export function mutated(bytes: Buffer, { kind, place, length, byte }: Mutation): Buffer {
  const at = Math.min(Math.floor(place * bytes.length), Math.max(bytes.length - 1, 0));
  const before = bytes.subarray(0, at);
  const piece = bytes.subarray(at, at + length);
  const after = bytes.subarray(at + length);
  switch (kind) {
    case "set":
      return Buffer.concat([before, Buffer.from([byte]), bytes.subarray(at + 1)]);
    case "mark":
      return Buffer.concat([before, Buffer.from([MARKS[byte % MARKS.length] ?? 0]), bytes.subarray(at + 1)]);
    case "flip":
      return Buffer.concat([
        before,
        Buffer.from([(bytes[at] ?? 0) ^ (1 << (byte % 8))]),
        bytes.subarray(at + 1),
      ]);
    case "insert":
      return Buffer.concat([before, Buffer.from([byte]), bytes.subarray(at)]);
    case "delete":
      return Buffer.concat([before, after]);
    case "repeat":
      return Buffer.concat([before, piece, piece, after]);
    case "cut":
      return before;
    case "swap":
      return Buffer.concat([before, piece.toReversed(), after]);
  }
}

/** One to three changes. */
export const mutations = fc.array(
  fc.record({
    kind: fc.constantFrom(...MUTATIONS),
    // Whole numbers: decimal ones are drawn mostly near 0.
    place: fc.integer({ min: 0, max: 9999 }).map((part) => part / 10_000),
    length: fc.integer({ min: 1, max: 24 }),
    byte: fc.integer({ min: 0, max: 255 }),
  }),
  { minLength: 1, maxLength: 3 },
);
