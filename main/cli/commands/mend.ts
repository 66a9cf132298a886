// mend: the remedies of a set that apply themselves, numbered; one or all of a rule applied and written.

import type { FindingJson } from '../../../shared/checks/toFindingsJson.ts';
import type { PatternSet } from '../../../shared/pattern/model.ts';
import { mendSet, type Offer, remediesFor, withActions } from '../../../shared/usecases/remedies/offers.ts';
import { makeVerifier, type Verify } from '../../../shared/usecases/verify.ts';
import { saveSet } from '../../files/setStore.ts';
import { EXIT, type ExitCode, end, need } from '../exitCodes.ts';
import { summaryLine } from '../findingText.ts';
import { pathOf, setToJudge } from '../paths.ts';
import type { CliSurroundings } from '../surroundings.ts';

interface MendOptions {
  readonly apply?: number;
  readonly rule?: string;
  readonly out?: string;
  readonly json?: boolean;
}

interface Offered {
  readonly finding: FindingJson;
  readonly offers: readonly (Offer & { readonly number: number })[];
}

export async function mend(typed: string, options: MendOptions, around: CliSurroundings): Promise<ExitCode> {
  const opened = await setToJudge(around, typed);
  const verify = makeVerifier();
  const offered = offersOf(opened.set, verify);
  if (options.apply === undefined && options.rule === undefined) {
    if (options.json) around.out(JSON.stringify(offersJson(opened.set, offered)));
    else for (const line of offerLines(offered)) around.out(line);
    return EXIT.done;
  }
  const out = options.out ?? typed;
  if (!out.endsWith('.notchwise'))
    end('no-out', 'Only a set file can be written back; add --out FILE.notchwise to keep the mended set.');
  const done =
    options.apply === undefined
      ? mendRule(opened.set, options.rule ?? '', verify)
      : mendNumber(opened.set, offered, options.apply);
  need(await saveSet(around.disk, pathOf(around, out), { ...opened, set: done.set }, around.now()));
  const { counts } = verify(done.set).findings;
  if (options.json)
    around.out(JSON.stringify({ format: 'notchwise-mended/1', set: done.set.name, applied: done.applied, counts }));
  else {
    for (const { sentence } of done.applied) around.out(sentence);
    around.out(`The set is in ${out}. ${summaryLine(counts)}`);
  }
  return EXIT.done;
}

function offersOf(set: PatternSet, verify: Verify): readonly Offered[] {
  let number = 0;
  return verify(set)
    .findings.findings.filter(({ verdict }) => verdict === 'fault')
    .map((finding) => ({
      finding,
      offers: remediesFor(set, finding, verify).map((offer) => {
        number += 1;
        return { ...offer, number };
      }),
    }));
}

interface Mended {
  readonly set: PatternSet;
  readonly applied: readonly Pick<Offer, 'id' | 'params' | 'sentence'>[];
}

function mendNumber(set: PatternSet, offered: readonly Offered[], number: number): Mended {
  const offer = offered.flatMap(({ offers }) => offers).find((one) => one.number === number);
  if (offer === undefined)
    return end('no-offer', `There is no remedy ${number}; mend SET lists them with their numbers.`);
  return { set: need(mendSet(set, offer)), applied: [brief(offer)] };
}

/** The first remedy of every finding of one rule, one after the other, each on what the one before left. */
function mendRule(set: PatternSet, rule: string, verify: Verify): Mended {
  let now = set;
  const applied: Mended['applied'][number][] = [];
  // Every remedy takes a fault away and adds none, so the faults at the start are the most steps there can be.
  const most = verify(set).findings.findings.flatMap((finding) => [finding, ...finding.consequences]).length;
  for (let step = 0; step < most; step++) {
    const faults = verify(now).findings.findings.filter((one) => one.verdict === 'fault' && one.rule === rule);
    const offer = faults.flatMap((finding) => remediesFor(now, finding, verify).slice(0, 1))[0];
    if (offer === undefined) break;
    now = offer.set;
    applied.push(brief(offer));
  }
  if (applied.length === 0) end('no-offer', `No remedy that applies itself mends what ${rule} says of this set.`);
  return { set: now, applied };
}

function brief({ id, params, sentence }: Offer): Mended['applied'][number] {
  return { id, params, sentence };
}

function offersJson(set: PatternSet, offered: readonly Offered[]) {
  return {
    format: 'notchwise-remedies/1',
    set: set.name,
    findings: offered.map(({ finding, offers }) => ({
      ...withActions(finding, offers),
      offers: offers.map(({ set: _, ...offer }) => offer),
    })),
  };
}

function offerLines(offered: readonly Offered[]): readonly string[] {
  if (offered.length === 0) return ['Nothing is to be mended.'];
  return offered.flatMap(({ finding, offers }) => [
    `${finding.gravity.padEnd(6)} ${finding.sentence} [${finding.rule}]`,
    ...offers.map(
      ({ number, sentence, leaves }) => `  ${String(number).padStart(3)}  ${sentence} ${leavesWords(leaves)}`,
    ),
    ...(offers.length === 0 ? finding.remedies.map(({ sentence }) => `       by hand: ${sentence}`) : []),
  ]);
}

function leavesWords(leaves: number): string {
  if (leaves === 0) return '(then nothing is left to stop for or to mend)';
  return `(then ${leaves} ${leaves === 1 ? 'thing is' : 'things are'} left to stop for or to mend)`;
}
