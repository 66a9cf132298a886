// Cloth with a nap or a one-way print is cut with every piece the same way up. One finding for the whole set.
import type { Point } from '../../base/points.ts';
import { dot, sub } from '../../geometry/vector.ts';
import { isOuter } from '../../pattern/cutList.ts';
import { normalLabel } from '../../pattern/kinds.ts';
import type { Piece, Shape } from '../../pattern/model.ts';
import { seamlineOf } from '../../pattern/seamline.ts';
import type { CheckContext } from '../context.ts';
import { defineRule, type Outcome } from '../rule.ts';
import { SET_WITH_PIECES, type WHOLE_SET } from '../subjects.ts';

interface Data {
  readonly oneWay: readonly string[];
  readonly others: readonly string[];
}

export const napDisagrees = defineRule<typeof WHOLE_SET, Data>({
  id: 'nap-disagrees',
  title: 'The pieces do not all lie one way on napped cloth',
  why: 'Velvet, corduroy and many prints look darker from one side than from the other. One panel laid the other way up is a different colour in the finished garment, and nothing can be done about it then.',
  source: 'An arrow with one head: nap, one way only (NIMI, CITS Dress Making TT, 2024, p. 17); no limit',
  messages: {
    clear: (d) => `All pieces lie one way on the cloth: ${d.oneWay.join(', ')}.`,
    opposite: (d) =>
      `${d.others.join(', ')} ${d.others.length === 1 ? 'points' : 'point'} down the cloth and ${d.oneWay.join(', ')} up: on napped cloth they would differ in colour.`,
    eitherWay: (d) =>
      `${d.oneWay.join(', ')} ${d.oneWay.length === 1 ? 'is' : 'are'} marked for cloth with a nap, but ${d.others.join(', ')} ${d.others.length === 1 ? 'is' : 'are'} not: on such cloth all pieces lie one way.`,
    noNap: () => 'No piece is marked for cloth with a nap.',
    untold: (d) =>
      `${d.oneWay.join(', ')}: marked for cloth with a nap, but its arrow has two heads or none, so which way is up is not said. Draw one head.`,
  },
  subjects: SET_WITH_PIECES,
  judge: (_, context) => [judgeSet(context)],
});

function judgeSet(context: CheckContext): Outcome<Data> {
  const { set } = context;
  const outer = set.pieces.filter((piece) => isOuter(piece) && shapeOf(piece, set.baseSize) !== null);
  const napped = outer.filter((piece) => piece.nap === 'one-way');
  const names = (pieces: readonly Piece[]) => pieces.map(({ name }) => name);
  const about = (oneWay: readonly Piece[], others: readonly Piece[]) => ({
    data: { oneWay: names(oneWay), others: names(others) },
    subjects: [...others, ...oneWay].map(({ id }) => ({ piece: id })),
  });
  if (napped.length === 0) return { verdict: 'not-applicable', key: 'noNap', ...about([], []) };
  const plain = outer.filter((piece) => piece.nap !== 'one-way');
  if (plain.length > 0) {
    return {
      verdict: 'fault',
      gravity: 'look',
      key: 'eitherWay',
      ...about(napped, plain),
      remedies: [
        {
          grade: 'choice',
          sentence: 'Mark all pieces of this cloth as lying one way, or none of them if it has no nap.',
        },
      ],
    };
  }
  const ways = napped.map((piece) => ({ piece, way: wayUp(shapeOf(piece, set.baseSize)!) }));
  const up = ways.filter(({ way }) => way === 'up').map(({ piece }) => piece);
  const down = ways.filter(({ way }) => way === 'down').map(({ piece }) => piece);
  if (up.length > 0 && down.length > 0) {
    const [most, fewest] = up.length >= down.length ? [up, down] : [down, up];
    return {
      verdict: 'fault',
      gravity: 'stop',
      key: 'opposite',
      ...about(up, down),
      overlay: fewest.flatMap((piece) => arrowOverlay(piece, shapeOf(piece, set.baseSize)!)),
      remedies: [
        {
          grade: 'choice',
          sentence: `Turn the arrows of ${names(fewest).join(', ')} to point as those of ${names(most).join(', ')} do.`,
        },
      ],
    };
  }
  const headless = napped.filter((piece) => {
    const grain = shapeOf(piece, set.baseSize)!.grainline;
    return grain !== null && grain.heads !== 1;
  });
  if (headless.length > 0) return { verdict: 'unsure', reason: 'not-said', key: 'untold', ...about(headless, []) };
  return { verdict: 'clear', key: 'clear', ...about(napped, []) };
}

function shapeOf(piece: Piece, baseSize: string): Shape | null {
  return piece.shapes[baseSize] ?? Object.values(piece.shapes)[0] ?? null;
}

function arrowOverlay(piece: Piece, { grainline }: Shape) {
  return grainline === null
    ? []
    : [{ kind: 'segment', piece: piece.id, from: grainline.from, to: grainline.to, label: 'one way' } as const];
}

/** Whether a one-headed arrow points up the body; null when it has not one head, or the piece does not say which way is up. */
function wayUp(shape: Shape): 'up' | 'down' | null {
  const { grainline } = shape;
  if (grainline === null || grainline.heads !== 1) return null;
  const top = middleOf(shape, TOPS);
  const bottom = middleOf(shape, BOTTOMS);
  if (top === null || bottom === null) return null;
  const climb = dot(sub(grainline.to, grainline.from), sub(top, bottom));
  if (climb === 0) return null;
  return climb > 0 ? 'up' : 'down';
}

/** Edges that lie high and low on the body; a bodice ends at the waist where a skirt begins. */
const TOPS: readonly string[] = ['shoulder', 'neck', 'cap', 'cap front', 'cap back', 'waist', 'rise'];
const BOTTOMS: readonly string[] = ['hem', 'waist'];

function middleOf(shape: Shape, names: readonly string[]): Point | null {
  const hits = seamlineOf(shape).edges.filter(({ edge }) => names.includes(nameOf(edge)));
  const other = names === TOPS ? BOTTOMS : TOPS;
  // The waist counts as the top only where nothing higher is there, and as the bottom only where nothing lower is.
  const sure = hits.filter(({ edge }) => !other.includes(nameOf(edge)));
  const best = (sure.length > 0 ? sure : hits)[0];
  if (best === undefined) return null;
  const [from, to] = [best.path[0]!, best.path.at(-1)!];
  return [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
}

function nameOf({ label, role }: { readonly label: string; readonly role: string }): string {
  return role === 'hem' ? 'hem' : normalLabel(label);
}
