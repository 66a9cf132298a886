import { XMLValidator } from 'fast-xml-parser';
import { describe, expect, test } from 'vitest';
import { rulePages } from '../../../main/files/rulePages.ts';
import { lengthTextIn } from '../../../shared/base/lengthText.ts';
import { contextOf } from '../../../shared/checks/context.ts';
import { runChecks } from '../../../shared/checks/engine.ts';
import type { Finding } from '../../../shared/checks/finding.ts';
import { signOf } from '../../../shared/report/gravitySign.ts';
import { reportHtml } from '../../../shared/report/html.ts';
import { escapeText } from '../../../shared/report/markup.ts';
import { pieceDrawing } from '../../../shared/report/pieceDrawing.ts';
import { seamRuler } from '../../../shared/report/seamRuler.ts';
import { reportOf } from '../../../shared/usecases/report.ts';
import { idealSet } from '../../photos/marl/idealSet.ts';

const traced = idealSet('as traced');
const read = await rulePages();
if (!read.ok) throw new Error(read.error.sentence);
const PAGES = read.value;

/** Width of a drawing on the page and its viewBox, as written. */
function frameOf(svg: string) {
  const [, width] = /width="([\d.]+)mm"/.exec(svg) ?? [];
  const [, box] = /viewBox="([^"]+)"/.exec(svg) ?? [];
  const [, , boxWidth, boxHeight] = (box ?? '').split(' ').map(Number);
  return { widthMm: Number(width), boxWidth: boxWidth!, boxHeight: boxHeight! };
}

describe('the report', () => {
  const html = reportOf(traced, PAGES);

  test('stands on its own: no script, no address outside, no file', () => {
    expect(html).not.toMatch(/<script|src=|href="[^#]|url\(|@import/);
    expect(html.replaceAll('http://www.w3.org/2000/svg', '')).not.toContain('http');
  });

  test('says every fault with its sentence, its number and what to do', () => {
    const faults = runChecks(traced).findings.filter((f) => f.verdict === 'fault');
    expect(faults.length).toBeGreaterThanOrEqual(3);
    for (const fault of faults) {
      expect(html).toContain(escapeText(fault.sentence));
      for (const remedy of fault.remedies) expect(html).toContain(escapeText(remedy.sentence));
    }
  });

  test('leads from every finding to the text of its rule, with its examples, on the same page', () => {
    const raised = runChecks(traced).findings.filter((f) => f.verdict === 'fault' || f.verdict === 'unsure');
    for (const { rule } of raised) {
      expect(html).toContain(`<a href="#rule-${rule}">${rule}</a>`);
      const [, text] = new RegExp(`<div id="rule-${rule}">(.*?)</div></details>`).exec(html) ?? [];
      expect(text).toContain('<h4>Fault</h4>');
      expect(text).not.toMatch(/\*\*|`|^#/);
    }
    expect(html).not.toContain('id="rule-child-cord"');
  });

  test('lays out every seam that can be walked', () => {
    const walks = contextOf(traced).walks();
    expect(html.match(/class="ruler"/g)).toHaveLength(walks.length);
  });

  test('keeps names with signs in them harmless', () => {
    const pieces = traced.pieces.map((piece, i) => (i === 0 ? { ...piece, name: '<b>"Front" & co' } : piece));
    const spiked = reportOf({ ...traced, name: '</title><script>', pieces }, PAGES);
    expect(spiked).not.toContain('<script>');
    expect(spiked).toContain('&lt;b&gt;&quot;Front&quot; &amp; co');
  });

  test('says so when there is nothing to see to', () => {
    expect(reportHtml({ set: traced, findings: [], walks: [], pages: PAGES })).toContain('Nothing to see to');
  });
});

describe('the drawing of a piece', () => {
  const piece = traced.pieces[0]!;
  const shape = piece.shapes.M!;

  test('is well-formed and keeps the piece’s proportions', () => {
    const svg = pieceDrawing(piece, shape, [], { longestSideMm: 80, accent: '#000' });
    expect(XMLValidator.validate(svg)).toBe(true);
    const { widthMm, boxWidth, boxHeight } = frameOf(svg);
    expect(widthMm / boxWidth).toBeCloseTo(80 / Math.max(boxWidth, boxHeight), 3);
  });

  test('marks what a finding points at, on its own piece only', () => {
    const overlay = [{ kind: 'point', piece: piece.id, at: [10, 20], label: 'here' } as const];
    const options = { longestSideMm: 80, accent: '#123456' };
    expect(pieceDrawing(piece, shape, overlay, options)).toContain('#123456');
    expect(pieceDrawing(traced.pieces[1]!, traced.pieces[1]!.shapes.M!, overlay, options)).not.toContain('#123456');
  });
});

describe('the seam ruler', () => {
  const cap = contextOf(traced)
    .walks()
    .find((walk) => walk.seam.name.includes('cap'))!;

  test('draws both sides to one scale from the same end', () => {
    const svg = seamRuler(cap, lengthTextIn('mm'));
    expect(XMLValidator.validate(svg)).toBe(true);
    const bars = [...svg.matchAll(/<rect x="([\d.]+)" y="([\d.]+)" width="([\d.]+)"/g)].map((m) =>
      m.slice(1).map(Number),
    );
    const width = (y: number) => bars.filter((b) => b[1] === y).reduce((sum, b) => sum + b[2]!, 0);
    const [upper, lower] = [...new Set(bars.map((b) => b[1]!))].sort((a, b) => a - b);
    const ratio = cap.sides[0].total.valueMm / cap.sides[1].total.valueMm;
    expect(width(upper!) / width(lower!)).toBeCloseTo(ratio, 3);
    expect(Math.min(...bars.filter((b) => b[1] === upper).map((b) => b[0]!))).toBeCloseTo(
      Math.min(...bars.filter((b) => b[1] === lower).map((b) => b[0]!)),
      6,
    );
  });

  test('writes the ease of the sections in words for who cannot see it', () => {
    expect(seamRuler(cap, lengthTextIn('mm'))).toMatch(/<title>[^<]*by section[^<]*mm<\/title>/);
  });
});

test('a sign is a shape and a word besides its colour, and no two are alike', () => {
  const kinds: Pick<Finding, 'verdict' | 'gravity'>[] = [
    { verdict: 'fault', gravity: 'stop' },
    { verdict: 'fault', gravity: 'mend' },
    { verdict: 'fault', gravity: 'look' },
    { verdict: 'fault', gravity: 'note' },
    { verdict: 'unsure', gravity: 'stop' },
    { verdict: 'clear', gravity: 'note' },
  ];
  const signs = kinds.map(signOf);
  expect(new Set(signs.map((s) => s.shape)).size).toBe(signs.length);
  expect(new Set(signs.map((s) => s.word)).size).toBe(signs.length);
});
