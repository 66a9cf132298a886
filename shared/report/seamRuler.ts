// The seam ruler: both sides of a seam laid out straight under one another from the same end, with their notches and joints,
// and the ease of each section written between them. One picture says where two edges part.

import type { LengthText } from '../base/lengthText.ts';
import { COVERAGE_FACTOR } from '../base/measured.ts';
import type { SideNotch, WalkedSide } from '../pattern/spans.ts';
import type { SeamWalk, Section } from '../pattern/walk.ts';
import { coordinate, escapeText } from './markup.ts';

/** Sizes on the page, millimetres. */
const PAGE = { widthMm: 174, left: 2, top: 7, barHeight: 7, gap: 13, tick: 2.6, text: 2.7, small: 2.3 } as const;
const COLOUR = { bar: ['#e7dcc6', '#d3dfdd'], line: '#26313a', ease: '#26313a', even: '#5d6870' } as const;
/** A section narrower than this on the page has no room for its number. */
const NARROWEST_LABELLED_MM = 9;

/** A complete `<svg>` element with a title for screen readers. */
export function seamRuler(walk: SeamWalk, lengths: LengthText): string {
  const longestMm = Math.max(walk.sides[0].total.valueMm, walk.sides[1].total.valueMm, 1);
  const toPage = (PAGE.widthMm - 2 * PAGE.left) / longestMm;
  const x = (mm: number) => PAGE.left + mm * toPage;
  const tops = [PAGE.top, PAGE.top + PAGE.barHeight + PAGE.gap] as const;
  const heightMm = tops[1] + PAGE.barHeight + PAGE.top;
  const parts = [
    ...walk.sides.flatMap((side, i) => bar(side, i === 0 ? tops[0] : tops[1], COLOUR.bar[i]!, { x, lengths }, i === 0)),
    ...walk.sections.flatMap((section) => between(section, tops[0] + PAGE.barHeight, tops[1], { x, lengths })),
  ];
  return `<svg xmlns="http://www.w3.org/2000/svg" class="ruler" role="img" viewBox="0 0 ${PAGE.widthMm} ${coordinate(heightMm)}" width="100%" font-size="${PAGE.text}"><title>${escapeText(titleOf(walk, lengths))}</title>${parts.join('')}</svg>`;
}

/** Words that say what the drawing shows. */
export function titleOf(walk: SeamWalk, { words: length, signed, unit }: LengthText): string {
  const [a, b] = walk.sides;
  const sections = walk.sections.map((s) => signed(s.difference.valueMm)).join(', ');
  return `${walk.seam.name}, size ${walk.size}: ${namesOf(a)} ${length(a.total.valueMm)}, ${namesOf(b)} ${length(b.total.valueMm)}; by section ${sections} ${unit}`;
}

/** The pieces of a side in the order of the walk. */
export function namesOf(side: WalkedSide): string {
  return [...new Set(side.spans.map((span) => span.piece.name))].join(' + ');
}

interface Page {
  /** Millimetres of the seam → millimetres of the page. */
  readonly x: (mm: number) => number;
  readonly lengths: LengthText;
}

function bar(side: WalkedSide, top: number, fill: string, { x, lengths }: Page, isUpper: boolean): string[] {
  const bottom = top + PAGE.barHeight;
  const inner = isUpper ? bottom : top;
  const outward = isUpper ? -1 : 1;
  const spans = side.spans.map((span) => {
    const from = x(span.startsAtMm);
    const width = span.length.valueMm * (x(1) - x(0));
    return (
      `<rect x="${coordinate(from)}" y="${top}" width="${coordinate(width)}" height="${PAGE.barHeight}" fill="${fill}" stroke="${COLOUR.line}" stroke-width="0.25"/>` +
      words(
        from + 1.2,
        top + PAGE.barHeight / 2 + 1,
        `${span.piece.name}: ${span.seam.edge.label}`,
        PAGE.small,
        'start',
      )
    );
  });
  const mouths = side.mouthsMm.map(
    (mm) =>
      `<path d="M${coordinate(x(mm))} ${top}V${bottom}" stroke="${COLOUR.line}" stroke-width="0.2" stroke-dasharray="0.8 0.8"/>`,
  );
  const total = words(
    PAGE.widthMm - PAGE.left,
    isUpper ? top - 1.6 : bottom + 4,
    lengths.uncertain(side.total.valueMm, COVERAGE_FACTOR * side.total.sigmaMm),
    PAGE.text,
    'end',
  );
  return [...spans, ...mouths, ...side.notches.map((notch) => notchTicks(notch, inner, outward, x)), total];
}

function notchTicks(notch: SideNotch, inner: number, outward: number, x: (mm: number) => number): string {
  return Array.from({ length: notch.notch.count }, (_, k) => {
    const at = x(notch.atMm) + (k - (notch.notch.count - 1) / 2) * 1.3;
    return `<path d="M${coordinate(at - 0.8)} ${inner}h1.6l-0.8 ${coordinate(outward * PAGE.tick)}z" fill="${COLOUR.line}"/>`;
  }).join('');
}

function between(section: Section, upper: number, lower: number, { x, lengths }: Page): string[] {
  const [a0, b0] = section.from.atMm;
  const [a1, b1] = section.to.atMm;
  const link = `<path d="M${coordinate(x(a1))} ${upper}L${coordinate(x(b1))} ${lower}" stroke="${COLOUR.line}" stroke-width="0.2" stroke-dasharray="0.6 0.9"/>`;
  const middle = (x(a0) + x(b0) + x(a1) + x(b1)) / 4;
  if (x(a1) - x(a0) < NARROWEST_LABELLED_MM) return [link];
  const differs = Math.abs(section.difference.valueMm) > COVERAGE_FACTOR * section.difference.sigmaMm;
  const colour = differs ? COLOUR.ease : COLOUR.even;
  return [
    link,
    words(middle, upper + 4.4, lengths.bare(section.lengths[0].valueMm), PAGE.small, 'middle'),
    words(middle, upper + 7.7, lengths.signed(section.difference.valueMm), PAGE.text, 'middle', colour),
    words(middle, lower - 1.6, lengths.bare(section.lengths[1].valueMm), PAGE.small, 'middle'),
  ];
}

function words(
  x: number,
  y: number,
  text: string,
  size: number,
  anchor: 'start' | 'middle' | 'end',
  colour: string = COLOUR.line,
): string {
  return `<text x="${coordinate(x)}" y="${coordinate(y)}" font-size="${size}" text-anchor="${anchor}" fill="${colour}">${escapeText(text)}</text>`;
}
