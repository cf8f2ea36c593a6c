import { defineReport } from "mantle-outcomes";
import { coxCoverageTables } from "./verification/cox-coverage.ts";
import { verifiedMethods } from "./verification/methods.ts";
import { verificationSections } from "./verification/sections.ts";
import { simulationTables } from "./verification/simulation.ts";
import { methodTable, printDifferences, summaryTable } from "./verification/tables.ts";

/**
 * Does the package compute what it says? Every estimator against printed figures and against other programs.
 *
 * Reads the reference values in tests/reference, so it runs in the repository, not in an installed package.
 */
export default defineReport({
  id: "verification",
  title: "Verification of the estimators",
  subtitle:
    "Every estimator against printed figures and against reference values computed with other programs",
  exhibits: () => {
    const methods = verifiedMethods();
    return [
      summaryTable(methods),
      printDifferences(methods),
      ...methods.map(methodTable),
      ...simulationTables(),
      ...coxCoverageTables(),
    ];
  },
  sections: verificationSections,
});
