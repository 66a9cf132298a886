// The table of the bench: what is printed for a value, its aim and how far it falls short.
import { describe, expect, it } from 'vitest';
import type { PhotoScore } from '../../bench/scorePieces.ts';
import { coverageTargets, judgedRows, silentTargets, verdictOf } from '../../bench/targets.ts';

const NO_MARKS = { wanted: 0, found: 0, invented: 0, errors: [], countRight: 0 };
const EMPTY: PhotoScore = {
  piecesWanted: 1,
  piecesFound: 1,
  piecesInvented: 0,
  edgesWanted: 0,
  lengths: [],
  outlineMm: [],
  outlineBiasMm: [],
  outlines: [],
  notches: NO_MARKS,
  darts: NO_MARKS,
  grainlines: NO_MARKS,
  folds: NO_MARKS,
  holes: NO_MARKS,
  lengthens: NO_MARKS,
};

describe('the table of the bench', () => {
  it('says by how much a value falls short, on whichever side', () => {
    const row = { what: '', unit: '' };
    expect(verdictOf({ ...row, value: 0.4, target: 0.4, bound: 'most' })).toBe('PASS');
    expect(verdictOf({ ...row, value: 0.5, target: 0.4, bound: 'most' })).toBe('SHORT BY 0.10');
    expect(verdictOf({ ...row, value: 0.9, target: 0.93, bound: 'least' })).toBe('SHORT BY 0.030');
    expect(verdictOf({ ...row, value: Number.NaN, target: 1, bound: 'least' })).toBe('nothing measured');
  });

  it('prints what is measured, the aim and the verdict, and no aim where none is set', () => {
    expect(
      judgedRows([
        { what: 'length', value: 0.31234, target: 0.4, bound: 'most', unit: 'mm' },
        { what: 'recall', value: 0.5, target: 0.95, bound: 'least', unit: '' },
        { what: 'seconds', value: 3.7, target: null, bound: 'most', unit: 'CPU s' },
      ]),
    ).toEqual([
      ['what', 'measured', 'aim', 'verdict'],
      ['length', '0.312 mm', '≤ 0.4', 'PASS'],
      ['recall', '0.500', '≥ 0.95', 'SHORT BY 0.45'],
      ['seconds', '3.70 CPU s', '', ''],
    ]);
  });

  it('judges stated uncertainties from both sides: true too seldom is short, and so is true always', () => {
    const always = Array.from({ length: 100 }, () => ({ trueMm: 100, errorMm: 0, sigmaMm: 9, isUnsure: false }));
    const seldom = always.map((length, i) => (i < 20 ? { ...length, errorMm: 50 } : length));
    const verdicts = (lengths: PhotoScore['lengths']) => coverageTargets([{ ...EMPTY, lengths }]).map(verdictOf);
    expect(verdicts(always)).toEqual(['PASS', 'SHORT BY 0.010']);
    expect(verdicts(seldom)).toEqual(['SHORT BY 0.13', 'PASS']);
  });

  it('counts photos that are silently wrong, not their faults', () => {
    const wrong = { ...EMPTY, piecesInvented: 3 };
    const photos = [
      { score: wrong, warnings: [] },
      { score: wrong, warnings: ['piece-faint'] },
      { score: EMPTY, warnings: [] },
    ];
    expect(silentTargets('glare', photos)).toMatchObject([
      { what: 'glare: photos silently wrong (of 3)', value: 1, target: 0 },
    ]);
  });
});
