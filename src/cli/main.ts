import { Command } from "commander";
import { mantleVersion } from "../study/notebook/mantle-version.ts";
import { EXIT } from "./exit-codes.ts";
import { failureWords } from "./failure-words.ts";
import { wrappedText } from "./wrapped-text.ts";

const program = new Command("mantle")
  .description(
    "Technique and outcome in cemented knee replacement: from a case export to a report that can be checked.",
  )
  .version(mantleVersion())
  .showHelpAfterError("(add --help for what is accepted)")
  .configureHelp({ sortSubcommands: false })
  .exitOverride((error) => process.exit(error.exitCode === 0 ? EXIT.ok : EXIT.failed));

program
  .command("report")
  .description("Run notebooks and write their reports.")
  .argument("[notebooks...]", "notebook files (default: every notebook in notebooks/)")
  .option("--audience <who>", "committee, external or analyst: who may read the report", "committee")
  .option(
    "--export <descriptor>",
    "a descriptor, or its folder, to use instead of the one the notebook names",
  )
  .option(
    "--readers-hold <folder>",
    "a report that the same readers hold already, the oldest first: nothing small may follow from both",
    (folder: string, held: string[]) => [...held, folder],
    [],
  )
  .option("--out <folder>", "where reports are written", "reports")
  .action(async (notebooks, options) =>
    finish((await import("./commands/report.ts")).report(notebooks, options)),
  );

program
  .command("check")
  .description(
    "Check a case export against its dictionary and say what is wrong, row by row; or propose a dictionary for it.",
  )
  .argument("<export>", "datapackage.json, the folder that holds it, or a table that has no dictionary yet")
  .option("--propose <file>", "write the proposed dictionary here")
  .option("--report <folder>", "write what was found as a page: no row is named on it")
  .option("--audience <who>", "committee, external or analyst: who may read the page", "committee")
  .option("--json", "findings as JSON, with row numbers", false)
  .action(async (path, options) => finish((await import("./commands/check.ts")).check(path, options)));

program
  .command("feasibility")
  .description("Say which steps of an export can be compared, before any result is looked at.")
  .argument("<export>", "datapackage.json, or the folder that holds it")
  .option("--outcome <word>", 'reason for revision as coded, or "any" (default: loosening where it is coded)')
  .option("--ratio <number>", "smallest ratio that matters (default: 2)")
  .option("--per1000 <number>", "smallest difference per 1000 that matters, in place of a ratio")
  .option("--year <number>", "year at which that difference is counted", "10")
  .option("--periods <list>", 'ends of periods in years, each a question of its own, or "none"', "none")
  .option("--stratum <fields...>", "coded fields within which steps may vary", [])
  .option("--comparisons <number>", "comparisons planned in all (default: every step recorded)")
  .option("--audience <who>", "committee, external or analyst: who may read the page", "committee")
  .option(
    "--readers-hold <folder>",
    "a report that the same readers hold already, the oldest first: nothing small may follow from both",
    (folder: string, held: string[]) => [...held, folder],
    [],
  )
  .option("--out <folder>", "where the page is written", "reports/feasibility")
  .action(async (path, options) =>
    finish((await import("./commands/feasibility.ts")).feasibility(path, options)),
  );

program
  .command("adherence")
  .description("Say which steps are done, where they are written down, and whether a standard is reached.")
  .argument("<export>", "datapackage.json, or the folder that holds it")
  .option("--at-least <standards...>", "step and per cent, such as pulsedLavage=90", [])
  .option("--at-most <standards...>", "the same for what should be rare", [])
  .option("--change <date>", "compare before and after this day, such as 2020-01-31")
  .option("--years <number>", "calendar years that stand in one column (default: 1)")
  .option("--stratum <fields...>", "coded fields at whose levels the steps are looked at", [])
  .option("--audience <who>", "committee, external or analyst: who may read the page", "committee")
  .option(
    "--readers-hold <folder>",
    "a report that the same readers hold already, the oldest first: nothing small may follow from both",
    (folder: string, held: string[]) => [...held, folder],
    [],
  )
  .option("--out <folder>", "where the page is written", "reports/adherence")
  .action(async (path, options) =>
    finish((await import("./commands/adherence.ts")).adherence(path, options)),
  );

program
  .command("pseudonymise")
  .description("Replace keys by pseudonyms, drop fields, and take exact dates out of an export.")
  .argument("<export>", "datapackage.json, or the folder that holds it")
  .requiredOption("--key <file>", "secret key of at least 32 bytes, kept outside the project")
  .requiredOption("--out <folder>", "where data, dictionary and log are written")
  .option("--drop <fields>", "fields to leave out, with commas between", "")
  .option("--replace <fields>", "fields to replace besides those that name cases and patients", "")
  .option(
    "--dates <how>",
    "follow-up: derive it and drop all dates; month or year: set dates to its first day",
    "follow-up",
  )
  .action(async (path, options) =>
    finish((await import("./commands/pseudonymise.ts")).pseudonymiseExport(path, options)),
  );

program
  .command("synthesise")
  .description("Write an invented case export with known truth.")
  .option("--knees <number>", "knees, about", "8000")
  .option("--surgeons <number>", "coded surgeons", "24")
  .option("--centres <number>", "coded centres", "4")
  .option("--seed <number>", "seed of the random streams (default: that of the demo export)")
  .option("--out <folder>", "where the export is written", "data/generated")
  .option("--replace", "write over an invented export of other settings", false)
  .action(async (options) => finish((await import("./commands/synthesise.ts")).synthesise(options)));

program
  .command("new")
  .description("Write a notebook to fill in from an export's dictionary; what is to be decided stays open.")
  .argument("[question]", "the question, in quotes")
  .requiredOption("--export <descriptor>", "datapackage.json, or the folder that holds it")
  .option("--out <folder>", "where the notebook is written", "notebooks")
  .option("--name <words>", "name of the notebook (default: the first words of the question)")
  .option("--fields-only", "write only the types of the export's fields and steps again", false)
  .action(async (question, options) =>
    finish((await import("./commands/new.ts")).newNotebook(question, options)),
  );

program
  .command("lock")
  .description("Fix the plan of a notebook in a file beside it, to be deposited before any result is seen.")
  .argument("<notebook>", "notebook file")
  .option("--deposited-at <place>", "where the lock was deposited: printed as you state it")
  .option("--deposited-on <date>", "the day it was deposited, as 2026-01-31: printed as you state it")
  .option("--export-hash <hash>", "SHA-256 of the export you mean to analyse: printed as you state it")
  .option("--replace", "lock another plan in place of the one that stands; the file names both", false)
  .action(async (notebook, options) => finish((await import("./commands/lock.ts")).lock(notebook, options)));

program
  .command("watch")
  .description("Show the report of a notebook in a browser on this machine, and make it again on every save.")
  .argument("<notebook>", "notebook file")
  .option("--audience <who>", "committee, external or analyst: who may read the report", "committee")
  .option(
    "--export <descriptor>",
    "a descriptor, or its folder, to use instead of the one the notebook names",
  )
  .option("--port <number>", "port to listen on (default: any that is free)")
  .action(async (notebook, options) =>
    finish((await import("./commands/watch.ts")).watch(notebook, options)),
  );

program
  .command("compare")
  .description("Compare two report folders: the same, or what differs.")
  .argument("<first>", "report folder")
  .argument("<second>", "report folder")
  .option("--all", "list every difference of two different questions too", false)
  .action(async (first, second, options) =>
    finish((await import("./commands/compare.ts")).compare(first, second, options)),
  );

program
  .command("verify")
  .description("Make a report again from its notebook and export: the same bytes, or what differs.")
  .argument("<report>", "report folder")
  .requiredOption("--notebook <file>", "the notebook it was made from")
  .option(
    "--export <descriptor>",
    "the export's descriptor, or its folder, where the notebook names another place",
  )
  .option(
    "--readers-hold <folder>",
    "a report that its readers held already, in the order in which it names them",
    (folder: string, held: string[]) => [...held, folder],
    [],
  )
  .action(async (folder, options) => finish((await import("./commands/verify.ts")).verify(folder, options)));

program
  .command("pool")
  .description("Add counts by time of several sources and write one report; no rows are needed.")
  .argument("<counts...>", "counts.json of each source, or the folders that hold them")
  .requiredOption("--out <folder>", "where the report is written")
  .option("--audience <who>", "committee, external or analyst: who may read the report", "committee")
  .option("--years <list>", "years at which risks are printed", "5,10")
  .option("--periods <list>", 'ends of the rate periods in years, or "none"', "3,5")
  .action(async (counts, options) => finish((await import("./commands/pool.ts")).pool(counts, options)));

// What is thrown outside a command, by a stream or a promise nobody awaits, is said in words too.
process.on("uncaughtException", (error) => process.exit(fail(error)));

try {
  // A reader that closes the pipe early ("| head") has seen enough: no fault, nothing to report.
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE") process.exit(EXIT.ok);
    throw error;
  });

  await program.parseAsync();
} catch (error) {
  process.exitCode = fail(error);
}

/** Keeps the exit code a command answers. */
async function finish(command: Promise<number>): Promise<void> {
  process.exitCode = await command;
}

/** A message in place of a crash trace. */
function fail(error: unknown): number {
  const words = failureWords(error, process.env.MANTLE_TRACE === "1");
  process.stderr.write(`${wrappedText(words, process.stderr.columns)}\n`);
  return EXIT.failed;
}
