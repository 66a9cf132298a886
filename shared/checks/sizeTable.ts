// Every seam in every size: what its second side has more than its first, and the gravest thing the checks say of it there.
import type { Size } from '../pattern/model.ts';
import type { Basis } from '../pattern/walk.ts';
import type { CheckContext } from './context.ts';
import { byGravity } from './gravity.ts';
import type { FindingJson } from './toFindingsJson.ts';

export interface SizeCell {
  readonly size: Size;
  /** Second side less first; null where the seam cannot be walked in this size. */
  readonly difference: { readonly valueMm: number; readonly sigmaMm: number } | null;
  readonly basis: Basis | null;
  /** The gravest finding about this seam in this size, causes and consequences alike; null where nothing was judged. */
  readonly finding: FindingJson | null;
}

export interface SizeRow {
  readonly seam: string;
  readonly name: string;
  readonly cells: readonly SizeCell[];
}

/** Rows in the order of the set's seams, cells in the order of its sizes. */
export function sizeTable(context: CheckContext, findings: readonly FindingJson[]): readonly SizeRow[] {
  const { set } = context;
  const said = everyFinding(findings).filter(({ verdict }) => verdict !== 'not-applicable');
  return set.seams.map((seam) => ({
    seam: seam.id,
    name: seam.name,
    cells: set.sizes.map((size): SizeCell => {
      const walked = context.walk(seam, size);
      const about = said.filter(({ subjects }) => subjects.some((one) => one.seam === seam.id && one.size === size));
      return {
        size,
        difference: walked.ok ? walked.value.difference : null,
        basis: walked.ok ? walked.value.basis : null,
        finding: about.toSorted(byWeight)[0] ?? null,
      };
    }),
  }));
}

function everyFinding(findings: readonly FindingJson[]): readonly FindingJson[] {
  return findings.flatMap((finding) => [finding, ...everyFinding(finding.consequences)]);
}

const VERDICTS: readonly FindingJson['verdict'][] = ['fault', 'unsure', 'clear', 'not-applicable'];

/** Faults first, the gravest of them first; of what is clear, what was measured first. */
function byWeight(a: FindingJson, b: FindingJson): number {
  return (
    VERDICTS.indexOf(a.verdict) - VERDICTS.indexOf(b.verdict) ||
    (a.verdict === 'fault' ? byGravity(a.gravity, b.gravity) : 0) ||
    Number(isLength(b)) - Number(isLength(a))
  );
}

function isLength({ measured }: FindingJson): boolean {
  return measured?.unit === 'mm';
}
