// The grainline turned about its middle: by an angle, or until it is parallel to the fold or the centre.
import { fail, ok, type Result } from '../../base/result.ts';
import { apply, rigid } from '../../geometry/transform.ts';
import { add, lerp, sub, turnDeg } from '../../geometry/vector.ts';
import type { Shape } from '../../pattern/model.ts';
import { chordOf } from '../kernel/corners.ts';
import { centreEdge, type Place } from '../kernel/find.ts';
import type { ChangedShape } from '../record.ts';
import { everywhere, marksOnly, PIECE, type RemedyAction, SIZE } from '../remedy.ts';
import { pieceWords } from '../words.ts';

export const alignGrain: RemedyAction = {
  id: 'align-grain',
  grade: 'choice',
  title: 'Align the grainline',
  params: [
    {
      name: 'turnDeg',
      unit: 'deg',
      default: 0,
      min: -90,
      max: 90,
      sentence: 'Turn, clockwise as seen; 0 = parallel to the fold or centre of the piece.',
    },
    PIECE,
    SIZE,
  ],
  sentence: (values, set) =>
    values.amount('turnDeg') === 0
      ? `Grainline of ${pieceWords(set, values.name('piece'))} laid parallel to its fold or centre.`
      : `Grainline of ${pieceWords(set, values.name('piece'))} turned by ${values.amount('turnDeg').toFixed(1)} degrees.`,
  redraw: (set, values) => everywhere(set, values, (place) => aligned(place, values.amount('turnDeg'))),
};

function aligned(place: Place, askedDeg: number): Result<Omit<ChangedShape, 'piece' | 'size'>> {
  const { grainline } = place.shape;
  if (grainline === null) return fail('no-grain', `"${place.piece.name}" has no grainline; draw one.`);
  const turn = askedDeg === 0 ? turnToCentre(place) : askedDeg;
  if (turn === null)
    return fail(
      'no-reference',
      `"${place.piece.name}" has neither fold nor centre; say by how much the grainline turns.`,
    );
  const middle = lerp(grainline.from, grainline.to, 1 / 2);
  const turned = (point: typeof middle) => add(middle, apply(rigid(turn, [0, 0]), sub(point, middle)));
  const shape: Shape = {
    ...place.shape,
    grainline: { ...grainline, from: turned(grainline.from), to: turned(grainline.to) },
  };
  return ok(marksOnly(shape));
}

/** The smaller of the two turns that make it parallel, whichever way the arrow points. */
function turnToCentre(place: Place): number | null {
  const centre = centreEdge(place);
  const { grainline } = place.shape;
  if (centre === null || grainline === null) return null;
  const deg = turnDeg(sub(grainline.to, grainline.from), chordOf(centre));
  return Math.abs(deg) <= 90 ? deg : deg - 180 * Math.sign(deg);
}
