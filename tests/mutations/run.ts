// Proof that the tests hold the rules: breaks each rule in memory, runs that rule's own tests, and expects them to fail. The
// files on disk are never changed. Prints rule -> killed / survived and the two counts; fails when anything survived.
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { startVitest } from 'vitest/node';
import { RULES } from '../../shared/checks/registry.ts';
import { MUTATIONS, type Mutation } from './table.ts';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const TESTS = 'tests/unit/checks/';
const RULE_TESTS = readdirSync(`${ROOT}${TESTS}`).filter((file) => /^rules\..*\.test\.ts$/.test(file));

/** The test file of a rule: the one that describes it under the name it is imported by. Loading the others would take most of the time. */
function testsOf(rule: string): string {
  const name = rule.replaceAll(/-(.)/g, (_, letter: string) => letter.toUpperCase());
  const own = RULE_TESTS.find((file) =>
    readFileSync(`${ROOT}${TESTS}${file}`, 'utf8').includes(`describeCheck(${name},`),
  );
  if (own === undefined) throw new Error(`no file of tests/unit/checks describes ${rule}`);
  return own;
}

/** Runs the tests of one rule (null = of all) with one change in place; true when every one of them still passes. */
async function passes(rule: string | null, mutation: Mutation | null): Promise<boolean> {
  const vitest = await startVitest(
    'test',
    (rule === null ? RULE_TESTS : [testsOf(rule)]).map((file) => `${TESTS}${file}`),
    {
      root: ROOT,
      watch: false,
      reporters: [{}],
      testNamePattern: rule === null ? /./ : new RegExp(`^${rule} `),
      fileParallelism: false,
      bail: 1,
    },
    {
      plugins: [
        {
          name: 'one-change',
          enforce: 'pre',
          transform: (code: string, id: string) =>
            mutation !== null && id.split('?')[0] === `${ROOT}${mutation.file}`
              ? code.replace(mutation.find, () => mutation.put)
              : undefined,
        },
      ],
    },
  );
  const tests = vitest.state.getTestModules().flatMap((module) => [...module.children.allTests()]);
  const ran = tests.filter((test) => test.result().state !== 'skipped');
  const failed = ran.some((test) => test.result().state === 'failed');
  const broken = vitest.state.getTestModules().some((module) => module.errors().length > 0);
  await vitest.close();
  // `vitest` marks the process as failed when a test fails; here that is the wanted outcome.
  process.exitCode = 0;
  if (broken) throw new Error(`the change "${mutation?.what ?? 'none'}" to ${rule} does not load`);
  if (ran.length === 0) throw new Error(`no test belongs to ${rule}`);
  return !failed;
}

/** A change that no longer fits its file would prove nothing. */
function mustFit({ rule, what, file, find }: Mutation): void {
  const places = readFileSync(`${ROOT}${file}`, 'utf8').split(find).length - 1;
  if (places !== 1) throw new Error(`the change "${what}" to ${rule} fits ${places} places of ${file}, not one`);
}

const only = process.argv.slice(2);
const wanted = RULES.map(({ id }) => id).filter((id) => only.length === 0 || only.includes(id));
MUTATIONS.forEach(mustFit);
if (!(await passes(null, null))) throw new Error('the tests of the rules fail without any change: mend that first');
let killed = 0;
let survived = 0;
for (const rule of wanted) {
  const own = MUTATIONS.filter((mutation) => mutation.rule === rule);
  if (own.length === 0) {
    survived++;
    console.log(`${rule} -> survived (nothing is changed to prove it; add a line to tests/mutations/table.ts)`);
    continue;
  }
  for (const mutation of own) {
    const isKilled = !(await passes(rule, mutation));
    if (isKilled) killed++;
    else survived++;
    console.log(`${rule} -> ${isKilled ? 'killed' : 'survived'} (${mutation.what})`);
  }
}
console.log(`killed ${killed}, survived ${survived}`);
process.exitCode = survived === 0 ? 0 : 1;
