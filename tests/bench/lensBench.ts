// The plane solver on real photos through real lenses, beside the native reference on the same corners.
import { realLensRows } from './realLenses.ts';
import { printTable } from './statistics.ts';

export function lensBench(): void {
  printTable(
    'Real lenses: relative length error p95, median over photos (ours ÷ reference; aim ≤ 1.10, coverage ≥ 0.90)',
    [
      ['set', 'cards', 'photos', 'ours', 'reference', 'ratio', 'within 2σ', 'verdict'],
      ...realLensRows().map((row) => [
        row.set,
        row.cards,
        String(row.photos),
        row.oursP95.toFixed(5),
        row.referenceP95.toFixed(5),
        row.ratio.toFixed(2),
        row.coverage.toFixed(3),
        row.ratio <= 1.1 && row.coverage >= 0.9
          ? 'PASS'
          : `SHORT BY ${Math.max(row.ratio - 1.1, 0.9 - row.coverage).toPrecision(2)}`,
      ]),
    ],
  );
}
