import { createHash } from "node:crypto";
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { pseudonymiser, readKey } from "../../src/cases/pseudonym.ts";

const folder = mkdtempSync(join(tmpdir(), "pseudonym-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const KEY = Buffer.from("0123456789abcdef0123456789abcdef");

/** The keyed hash by its definition: RFC 2104 with blocks of 64 bytes. */
function keyedHash(key: Uint8Array, text: string): string {
  const block = Buffer.alloc(64);
  Buffer.from(key).copy(block);
  const sha = (...parts: Uint8Array[]) => createHash("sha256").update(Buffer.concat(parts)).digest();
  const padded = (pad: number) => block.map((byte) => byte ^ pad);
  return sha(padded(0x5c), sha(padded(0x36), Buffer.from(text))).toString("hex");
}

describe("pseudonymiser()", () => {
  it("gives the keyed hash of kind and value (twin: the definition)", () => {
    const { pseudonym } = pseudonymiser(KEY);
    expect(pseudonym("patientId", "P1å")).toBe(`P${keyedHash(KEY, "patientId\u0000P1å").slice(0, 32)}`);
  });

  it("gives the same value the same pseudonym, and another kind, value or key another", () => {
    const one = pseudonymiser(KEY);
    const other = pseudonymiser(Buffer.from(KEY).reverse());
    expect(pseudonymiser(KEY).pseudonym("patientId", "1")).toBe(one.pseudonym("patientId", "1"));
    const different = [
      one.pseudonym("patientId", "1"),
      one.pseudonym("patientId", "2"),
      one.pseudonym("caseId", "1"),
      other.pseudonym("patientId", "1"),
    ];
    expect(new Set(different).size).toBe(4);
    expect(one.keyCheck).not.toBe(other.keyCheck);
  });

  it.each([
    ["31 bytes", KEY.subarray(0, 31)],
    ["nothing", Buffer.alloc(0)],
    ["one byte repeated", Buffer.alloc(64, 7)],
  ])("refuses a key of %s", (_name, key) => {
    expect(() => pseudonymiser(key)).toThrow(/at least 32 bytes/);
  });
});

describe("readKey()", () => {
  const project = join(folder, "project");
  mkdirSync(project);
  writeFileSync(join(project, "key"), KEY);
  writeFileSync(join(folder, "key"), `${KEY}\r\n`);
  symlinkSync(join(project, "key"), join(folder, "link"));
  symlinkSync(project, join(folder, "linked-project"));

  it("reads a key outside the folders, without the end of its line", () => {
    expect(readKey(join(folder, "key"), [project, join(folder, "not-there-yet")])).toEqual(KEY);
  });

  it("says that a key is not there before it says where it must not lie", () => {
    expect(() => readKey(join(folder, "new", "key"), [join(folder, "new")])).toThrow(/is not there/);
  });

  it.each([
    ["in the project", join(project, "key"), project],
    ["linked to from outside", join(folder, "link"), project],
    ["in a project that is itself a link", join(project, "key"), join(folder, "linked-project")],
  ])("refuses a key %s", (_name, path, inside) => {
    expect(() => readKey(path, [inside])).toThrow(/the key lies inside/);
  });
});
