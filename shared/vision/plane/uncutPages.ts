// Finds cards that still hang together as one page: their places relative to one another, solved as if they were cut, are
// those of the printed page within what the solution knows. An uncut page has fewer unknowns and a longer baseline.
import type { FoundCard } from '../cards/foundCard.ts';
import { BODY, bodyAt } from './bodyLayout.ts';
import type { CardBody, PrintScale } from './cardBodies.ts';
import { quadratic3 } from './linearAlgebra.ts';
import { bodyNumbers, type CoreFit } from './solveCore.ts';

const UNCUT = {
  /** A page may be bowed and stretched by this much between two cards without being cut. */
  turnSigmaRad: 0.006,
  shiftSigmaMm: 0.7,
  /** Chi-square with 3 degrees of freedom at 99.9 %. */
  chiSquareLimit: 16.3,
  /** A photo that knows the relative place less well than this cannot tell. */
  shiftKnownMm: 8,
} as const;

/** Groups of cards, each either one cut card or the cards of one uncut sheet; order of first appearance is kept. */
export function uncutGroups(bodies: readonly CardBody[], fit: CoreFit, scale: PrintScale): FoundCard[][] {
  const group = bodies.map((_, i) => i);
  const rootOf = (i: number): number => (group[i] === i ? i : rootOf(group[i]!));
  for (let i = 0; i < bodies.length; i++)
    for (let j = i + 1; j < bodies.length; j++)
      if (rootOf(i) !== rootOf(j) && hangTogether(bodies, fit, scale, i, j)) group[rootOf(j)] = rootOf(i);
  const groups = new Map<number, FoundCard[]>();
  bodies.forEach(({ cards }, i) => {
    const root = rootOf(i);
    groups.set(root, [...(groups.get(root) ?? []), ...cards]);
  });
  return [...groups.values()];
}

function hangTogether(bodies: readonly CardBody[], fit: CoreFit, scale: PrintScale, i: number, j: number): boolean {
  const a = bodies[i]!;
  const b = bodies[j]!;
  const cardA = a.cards[0]!;
  const cardB = b.cards[0]!;
  if (cardA.page !== cardB.page || cardA.id === cardB.id) return false;
  const wantedX = (cardB.onPageMm[0] - cardA.onPageMm[0]) * scale.xRatio + b.middleMm[0] - a.middleMm[0];
  const wantedY = (cardB.onPageMm[1] - cardA.onPageMm[1]) * scale.yRatio + b.middleMm[1] - a.middleMm[1];
  const na = bodyNumbers(fit, i);
  const nb = bodyNumbers(fit, j);
  const cos = Math.cos(na[BODY.turn]!);
  const sin = Math.sin(na[BODY.turn]!);
  const dx = nb[BODY.x]! - na[BODY.x]!;
  const dy = nb[BODY.y]! - na[BODY.y]!;
  const turn = nb[BODY.turn]! - na[BODY.turn]!;
  const gap = [
    Math.atan2(Math.sin(turn), Math.cos(turn)),
    cos * dx + sin * dy - wantedX,
    -sin * dx + cos * dy - wantedY,
  ];
  // Derivatives of the gap by (turn, x, y) of the first and of the second card.
  const first = [
    [-1, 0, 0],
    [-sin * dx + cos * dy, -cos, -sin],
    [-cos * dx - sin * dy, sin, -cos],
  ];
  const second = [
    [1, 0, 0],
    [0, cos, sin],
    [0, -sin, cos],
  ];
  const covariance = gap.map((_, p) =>
    gap.map((__, q) => {
      const allowed = p === 0 ? UNCUT.turnSigmaRad ** 2 : UNCUT.shiftSigmaMm ** 2;
      const row = [...first[p]!, ...second[p]!];
      const column = [...first[q]!, ...second[q]!];
      let sum = p === q ? allowed : 0;
      row.forEach((u, k) => {
        column.forEach((v, l) => {
          sum += u * v * covarianceOf(fit, placeIndex(i, j, k), placeIndex(i, j, l));
        });
      });
      return sum;
    }),
  );
  if (Math.sqrt(Math.max(covariance[1]![1]!, covariance[2]![2]!)) > UNCUT.shiftKnownMm) return false;
  return quadratic3(covariance, gap) < UNCUT.chiSquareLimit;
}

function placeIndex(i: number, j: number, k: number): number {
  return k < 3 ? bodyAt(i) + k : bodyAt(j) + k - 3;
}

function covarianceOf(fit: CoreFit, a: number, b: number): number {
  const i = fit.free.indexOf(a);
  const j = fit.free.indexOf(b);
  return i < 0 || j < 0 ? 0 : fit.covariance.get(i, j);
}
