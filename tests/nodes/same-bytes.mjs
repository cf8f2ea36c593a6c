// Makes every report again with each major version of Node that the package promises, each in another time zone and language,
// and holds the bytes against the committed reports. The versions come from the npm registry into a temporary folder.
//
//   npm run test:nodes                  all versions
//   npm run test:nodes -- 24            one of them
import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";

const ROOT = join(import.meta.dirname, "../..");
const COMMITTED = join(ROOT, "reports");
/** Where a date, a decimal or a capital letter would come out otherwise if anything asked the machine. */
const PLACES = [
  { version: "20", zone: "Pacific/Kiritimati", language: "tr_TR.UTF-8" },
  { version: "22", zone: "America/St_Johns", language: "de_DE.UTF-8" },
  { version: "24", zone: "Asia/Kathmandu", language: "ar_EG.UTF-8" },
];

const wanted = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), "mantle-nodes-"));
let different = 0;
try {
  for (const place of PLACES.filter(({ version }) => wanted.length === 0 || wanted.includes(version))) {
    const node = install(place.version);
    const out = join(folder, `reports-${place.version}`);
    const made = run(node, ["src/cli/mantle.js", "report", "--out", out], ROOT, {
      TZ: place.zone,
      LANG: place.language,
      LC_ALL: place.language,
    });
    if (made.status !== 0) throw new Error(`Node ${place.version}: ${made.stderr}`);
    const moved = filesIn(out).filter((path) => !sameBytes(join(out, path), join(COMMITTED, path)));
    different += moved.length;
    const version = run(node, ["--version"], ROOT).stdout.trim();
    const count = filesIn(out).length;
    console.log(`Node ${version}, ${place.zone}: ${count} files, ${moved.length} with other bytes`);
    for (const path of moved) console.log(`  ${path}`);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
process.exitCode = different === 0 ? 0 : 1;

/** The binary of a version, by the package of this machine's kind: it needs no script to install. */
function install(version) {
  const home = join(folder, `node-${version}`);
  const name = `node-${process.platform === "win32" ? "win" : process.platform}-${process.arch}`;
  mkdirSync(home);
  writeFileSync(join(home, "package.json"), '{ "private": true }');
  const done = run("npm", ["install", "--no-package-lock", "--ignore-scripts", `${name}@${version}`], home);
  if (done.status !== 0) throw new Error(`npm could not install ${name}@${version}:\n${done.stderr}`);
  return join(home, "node_modules", name, "bin", process.platform === "win32" ? "node.exe" : "node");
}

function run(command, args, cwd, env = {}) {
  return spawnSync(command, args, { cwd, env: { ...process.env, ...env }, encoding: "utf8" });
}

function filesIn(top) {
  return readdirSync(top, { recursive: true, encoding: "utf8" })
    .filter((name) => statSync(join(top, name)).isFile())
    .map((name) => relative(top, join(top, name)))
    .sort();
}

function sameBytes(one, two) {
  return (
    statSync(two, { throwIfNoEntry: false })?.isFile() === true && readFileSync(one).equals(readFileSync(two))
  );
}
