// One row of the bench of the rules, in a process of its own. Argument: which. Output: milliseconds.
import { CHECKS_MEASURED, type ChecksMeasured } from './checksBench.ts';

console.log(CHECKS_MEASURED[process.argv[2] as ChecksMeasured]());
