// The report: one self-contained page that a person would print. Findings first, each drawn on its piece, with the number,
// the uncertainty, the limit and what to do; then every seam as a seam ruler; then the pieces and how they were measured.

import { type LengthText, lengthTextIn } from '../base/lengthText.ts';
import type { Finding } from '../checks/finding.ts';
import type { PatternSet, Piece } from '../pattern/model.ts';
import type { SeamWalk } from '../pattern/walk.ts';
import { type Sign, signOf, signSvg } from './gravitySign.ts';
import { escapeText } from './markup.ts';
import { measuredText, measuredWithSpread } from './measuredText.ts';
import { pieceDrawing } from './pieceDrawing.ts';
import { reportStyle } from './reportStyle.ts';
import { type RulePages, ruleText, ruleTitle } from './ruleText.ts';
import { seamRuler } from './seamRuler.ts';

export interface ReportInput {
  readonly set: PatternSet;
  readonly findings: readonly Finding[];
  /** Every seam in every size that could be walked, in the order of the set. */
  readonly walks: readonly SeamWalk[];
  readonly pages: RulePages;
}

const FINDING_DRAWING_MM = 62;
const PIECE_DRAWING_MM = 80;

/** A complete HTML document; needs nothing from outside, runs no script. */
export function reportHtml({ set, findings, walks, pages }: ReportInput): string {
  const lengths = lengthTextIn(set.displayUnits);
  const raised = findings.filter((f) => f.verdict === 'fault' || f.verdict === 'unsure');
  const clear = findings.filter((f) => f.verdict === 'clear');
  const body = [
    header(set, raised, clear.length),
    section(
      'What to see to',
      raised.length === 0
        ? '<p>Nothing to see to in what was checked.</p>'
        : raised.map((f) => article(f, set, pages)).join(''),
    ),
    section(
      'The seams, side by side',
      walks.map((walk) => seamBlock(walk, lengths)).join('') || '<p>No seam has been set up yet.</p>',
    ),
    section('The pieces', `<div class="pieces">${set.pieces.flatMap((piece) => pieceBlocks(piece)).join('')}</div>`),
    section(
      'What is clear',
      clear.length === 0
        ? '<p>Nothing was found clear yet.</p>'
        : `<ul class="clear">${clear.map((f) => `<li>${escapeText(f.sentence)}</li>`).join('')}</ul>`,
    ),
    section('How this was measured', measuring(set)),
    ruleSection(raised, pages),
  ].join('');
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>${escapeText(set.name)}: checked before the cut</title><style>${reportStyle}</style></head><body>${body}</body></html>`;
}

function header(set: PatternSet, raised: readonly Finding[], clearCount: number): string {
  const groups = new Map<string, { sign: Sign; count: number }>();
  for (const finding of raised) {
    const sign = signOf(finding);
    groups.set(sign.word, { sign, count: (groups.get(sign.word)?.count ?? 0) + 1 });
  }
  const tally = [...groups.values()]
    .map(
      ({ sign, count }) =>
        `<li style="color:${sign.colour}">${signSvg(sign, 18)} <b>${count}</b> ${escapeText(sign.word)}</li>`,
    )
    .join('');
  return `<header><h1>${escapeText(set.name)}</h1><p class="sub">Checked before the cut · ${set.pieces.length} pieces · sizes ${escapeText(set.sizes.join(', '))} · limits for ${escapeText(set.preset.tolerance)} sewing, ${escapeText(set.preset.cloth)} cloth</p><ul class="tally">${tally}<li>${clearCount} clear</li></ul><p class="care">A photograph shows the shape of paper, not the fabric: cut a cheap test garment first if the fabric matters. Mind blades and pins, cut away from your hand, and for children's clothes follow the local rules on cords, small parts and sleepwear; this page does not test for them.</p></header>`;
}

function section(title: string, content: string): string {
  return `<section><h2>${title}</h2>${content}</section>`;
}

function article(finding: Finding, set: PatternSet, pages: RulePages): string {
  const sign = signOf(finding);
  const parts = [
    `<div class="words"><h3 style="color:${sign.colour}">${signSvg(sign, 20)} ${escapeText(sign.word)}<span class="rule">${ruleLink(finding.rule, pages)}</span></h3>`,
    `<p class="sentence">${escapeText(finding.sentence)}</p>`,
    numbers(finding, lengthTextIn(set.displayUnits)),
    finding.remedies.length > 0
      ? `<ul class="remedies">${finding.remedies.map((r) => `<li>${escapeText(r.sentence)}</li>`).join('')}</ul>`
      : '',
    `<p class="why"><b>Why:</b> ${escapeText(finding.why)}</p>`,
    consequences(finding),
    '</div>',
  ];
  return `<article>${parts.join('')}<div class="drawings">${drawings(finding, set, sign.colour)}</div></article>`;
}

/** The rule's id, leading to its text further down. */
function ruleLink(rule: string, pages: RulePages): string {
  const id = escapeText(rule);
  return pages.has(rule) ? `<a href="#rule-${id}">${id}</a>` : id;
}

/** The text of every rule that spoke, folded; a browser opens the one that is followed to. */
function ruleSection(raised: readonly Finding[], pages: RulePages): string {
  const rules = [...new Set(raised.flatMap((finding) => [finding, ...finding.consequences]).map(({ rule }) => rule))];
  const texts = rules.flatMap((rule) => {
    const page = pages.get(rule);
    if (page === undefined) return [];
    const id = escapeText(rule);
    return `<details class="rule-text"><summary>${escapeText(ruleTitle(page))} <span class="rule">${id}</span></summary><div id="rule-${id}">${ruleText(page)}</div></details>`;
  });
  return texts.length === 0 ? '' : section('The rules that spoke, with examples', texts.join(''));
}

function numbers({ measured, limit }: Finding, lengths: LengthText): string {
  if (measured === undefined || measured.unit === 'count') return '';
  const bound =
    limit === undefined
      ? ''
      : `, limit ${measuredText(limit, lengths)} <span class="source">(${escapeText(limit.source)})</span>`;
  return `<p class="numbers">Measured ${measuredWithSpread(measured, lengths)}${bound}</p>`;
}

function consequences(finding: Finding): string {
  if (finding.consequences.length === 0) return '';
  return `<p class="follows">From the same cause:</p><ul>${finding.consequences.map((c) => `<li>${escapeText(c.sentence)}</li>`).join('')}</ul>`;
}

/** One drawing for each piece that the finding, or what follows from it, points at. */
function drawings(finding: Finding, set: PatternSet, accent: string): string {
  const overlay = [finding, ...finding.consequences].flatMap((f) => f.overlay);
  const ids = new Set(overlay.map((o) => o.piece));
  const size = finding.subjects.find((s) => s.size !== undefined)?.size ?? set.baseSize;
  return set.pieces
    .filter((piece) => ids.has(piece.id))
    .map((piece) => {
      const shape = piece.shapes[size] ?? Object.values(piece.shapes)[0];
      if (shape === undefined) return '';
      const drawing = pieceDrawing(piece, shape, overlay, { longestSideMm: FINDING_DRAWING_MM, accent });
      return `<figure>${drawing}<figcaption>${escapeText(piece.name)}</figcaption></figure>`;
    })
    .join('');
}

function seamBlock(walk: SeamWalk, lengths: LengthText): string {
  const status = walk.seam.status === 'proposed' ? ' <span class="proposed">proposed, not confirmed</span>' : '';
  return `<div class="seam"><h3>${escapeText(walk.seam.name)} <span class="size">size ${escapeText(walk.size)}</span>${status}</h3>${seamRuler(walk, lengths)}</div>`;
}

function pieceBlocks(piece: Piece): string[] {
  return Object.entries(piece.shapes).map(
    ([size, shape]) =>
      `<figure>${pieceDrawing(piece, shape, [], { longestSideMm: PIECE_DRAWING_MM, accent: '#000' })}<figcaption>${escapeText(piece.name)} · size ${escapeText(size)} · ${escapeText(piece.kind)}</figcaption></figure>`,
  );
}

function measuring(set: PatternSet): string {
  const shots = set.shots.map((shot) => {
    const cards = shot.cards.map((card) => card.id).join(', ');
    const warnings = shot.warnings.map((w) => `<br><span class="warning">${escapeText(w.message)}</span>`).join('');
    return `<li><b>${escapeText(shot.file)}</b>: ${shot.mmPerPixel.toFixed(3)} mm a pixel, tilt ${shot.tiltDeg.toFixed(0)}°, cards ${escapeText(cards || 'none')}${warnings}</li>`;
  });
  const intro =
    'Lengths are measured along the seamline, with darts and pleats closed. Each is given as value ± U, where U is twice the standard uncertainty and covers about 95 of 100 cases. A difference is a fault only when it exceeds the limit by more than U, and clear only when it stays inside by U (the decision rule of ISO 14253-1); otherwise the page asks to measure again.';
  return `<p>${intro}</p>${shots.length > 0 ? `<ul>${shots.join('')}</ul>` : ''}`;
}
