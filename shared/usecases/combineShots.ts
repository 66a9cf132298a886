// Puts what was read from several photos together: photos of one table are joined, pieces get ids of their own, warnings say
// which photo they speak of.
import type { Warning } from '../base/result.ts';
import type { Arrangement, Capture, CapturedPhoto, TapedCards } from './captured.ts';
import { joinShots, withoutJoining } from './joinShots.ts';

/** Photos in the order in which they were given. */
export function combineShots(given: readonly CapturedPhoto[], arrangement: Arrangement = 'one-table'): Capture {
  const several = given.length > 1;
  const { photos, groups, warnings } = arrangement === 'separate' ? withoutJoining(given) : joinShots(given);
  const pieces = photos.flatMap((photo) => photo.pieces);
  return {
    photos,
    pieces: pieces.map((piece, index) => ({ ...piece, id: `p${index + 1}` })),
    joined: groups,
    joinWarnings: warnings,
    warnings: [
      ...photos.flatMap((photo) =>
        photo.warnings.map(({ code, message }) => ({ code, message: several ? `${photo.file}: ${message}` : message })),
      ),
      ...warnings,
      ...unusedTapes(given, groups).map(tapeUnseen),
    ],
  };
}

/** Tapes whose two cards neither one photo nor photos joined together show. */
function unusedTapes(photos: readonly CapturedPhoto[], groups: readonly (readonly string[])[]): readonly TapedCards[] {
  const tables = [...photos.map(({ file }) => [file]), ...groups].map(
    (files) =>
      new Set(
        photos.filter(({ file }) => files.includes(file)).flatMap(({ plane }) => plane.cards.map(({ id }) => id)),
      ),
  );
  return (photos[0]?.tapedUnseen ?? []).filter(
    ({ from, to }) => !tables.some((names) => names.has(from) && names.has(to)),
  );
}

function tapeUnseen({ from, to }: TapedCards): Warning {
  return {
    code: 'taped-cards-unseen',
    message: `The taped distance from ${from} to ${to} was not used: the photos do not show both cards.`,
  };
}
