// The table of seams by sizes: differences of each size, and the gravest finding about that seam in that size.
import { describe, expect, it } from 'vitest';
import { contextOf } from '../../../shared/checks/context.ts';
import { sizeTable } from '../../../shared/checks/sizeTable.ts';
import type { PatternSet } from '../../../shared/pattern/model.ts';
import { verify } from '../../../shared/usecases/verify.ts';
import { twoSizes } from '../../support/alterSets.ts';
import { dressWaist } from '../../support/scenarioSets.ts';

function tableOf(set: PatternSet) {
  return sizeTable(contextOf(set), verify(set).findings.findings);
}

describe('the table of seams by sizes', () => {
  it('has a row for each seam and a cell for each size, with the difference of that size', () => {
    const set = twoSizes();
    const rows = tableOf(set);
    expect(rows.map(({ seam }) => seam)).toEqual(set.seams.map(({ id }) => id));
    const cap = rows.find(({ name }) => name === 'sleeve cap')!;
    expect(cap.cells.map(({ size }) => size)).toEqual(['M', 'L']);
    expect(cap.cells[0]!.difference!.valueMm).toBeCloseTo(28, 2);
    expect(cap.cells[1]!.difference!.valueMm).toBeCloseTo(28 * 1.05, 2);
  });

  it('says the gravest that is said of the seam in that size, also where it is a consequence of another finding', () => {
    const set = dressWaist(202);
    const said = JSON.stringify(verify(set).findings.findings);
    expect(said).toContain('"fault"');
    const cells = tableOf(set).flatMap((row) => row.cells);
    expect(cells.some(({ finding }) => finding?.verdict === 'fault')).toBe(true);
    for (const { finding, size } of cells) {
      if (finding !== null) expect(finding.subjects.some((subject) => subject.size === size)).toBe(true);
    }
  });

  it('leaves a cell empty where a piece of the seam was not traced in that size', () => {
    const set = twoSizes();
    const without = {
      ...set,
      pieces: set.pieces.map((piece) => (piece.id === 'sleeve' ? { ...piece, shapes: { M: piece.shapes.M! } } : piece)),
    };
    const cap = tableOf(without).find(({ name }) => name === 'sleeve cap')!;
    expect(cap.cells.map(({ difference }) => difference === null)).toEqual([false, true]);
  });
});
