// Colours that can be read: contrast as WCAG 2.2 reckons it (relative luminance and ratio as defined in its glossary); 4.5 : 1 for
// text (1.4.3), 3 : 1 for lines and signs (1.4.11). Buttons that cannot be pressed are exempt there, and here.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { PALETTE } from '../../../renderer/canvas/palette.ts';
import { TRUST_BANDS } from '../../../renderer/photos/trustBands.ts';
import { MARK_COLOURS } from '../../../renderer/seams/markWords.ts';
import { signOf } from '../../../shared/report/gravitySign.ts';

const TOKENS = Object.fromEntries(
  [...readFileSync('renderer/app/tokens.css', 'utf8').matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)].map(
    ([, name, colour]) => [name!, colour!],
  ),
);
const { calico, paper, card, tape } = TOKENS as Record<string, string>;
const CHALK_SOFT = TOKENS['chalk-soft']!;

function luminance(colour: string): number {
  const [red, green, blue] = [1, 3, 5].map((at) => {
    const part = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
}

function contrast(a: string, b: string): number {
  const [darker, lighter] = [luminance(a), luminance(b)].toSorted((x, y) => x - y);
  return (lighter! + 0.05) / (darker! + 0.05);
}

it('reckons contrast as WCAG does', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
  // A known pair: #767676 is the lightest grey that passes on white (from memory).
  expect(contrast('#767676', '#ffffff')).toBeGreaterThan(4.5);
  expect(contrast('#777777', '#ffffff')).toBeLessThan(4.5);
});

describe('text', () => {
  const signs = [
    ...(['stop', 'mend', 'look', 'note'] as const).map((gravity) => signOf({ verdict: 'fault', gravity }).colour),
    ...(['unsure', 'clear'] as const).map((verdict) => signOf({ verdict, gravity: 'note' }).colour),
  ];
  it.each<[text: string, ground: string]>([
    ...[TOKENS.ink!, TOKENS['ink-soft']!].flatMap((ink) =>
      [calico!, paper!, card!, CHALK_SOFT].map((ground): [string, string] => [ink, ground]),
    ),
    [TOKENS.ink!, tape!],
    [TOKENS['tape-dark']!, tape!],
    [TOKENS.warn!, paper!],
    [TOKENS.paper!, TOKENS.chalk!],
    [TOKENS.paper!, TOKENS['chalk-dark']!],
    [TOKENS.paper!, TOKENS.ink!],
    ...signs.flatMap((colour): [string, string][] => [
      [colour, card!],
      [colour, CHALK_SOFT],
    ]),
    ...[PALETTE.word, PALETTE.wordFaint, PALETTE.chalk, PALETTE.unsure, PALETTE.before, PALETTE.after].flatMap(
      (colour) => [calico!, PALETTE.paper].map((ground): [string, string] => [colour, ground]),
    ),
    ...Object.values(MARK_COLOURS).map((colour): [string, string] => [colour, PALETTE.paper]),
  ])('%s on %s', (text, ground) => {
    expect(contrast(text, ground)).toBeGreaterThanOrEqual(4.5);
  });
});

describe('lines', () => {
  const lines = [PALETTE.ink, PALETTE.inkFaint, PALETTE.seamline, PALETTE.chalk, PALETTE.traced, ...PALETTE.sides];
  it.each([...lines, ...TRUST_BANDS.map(({ colour }) => colour), TOKENS['ink-soft']!])(
    '%s on table and paper',
    (line) => {
      expect(contrast(line, calico!)).toBeGreaterThanOrEqual(3);
      expect(contrast(line, PALETTE.paper)).toBeGreaterThanOrEqual(3);
    },
  );
});
