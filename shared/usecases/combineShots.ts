// Puts what was read from several photos together: pieces get ids of their own, warnings say which photo they speak of.
import type { Capture, CapturedPhoto } from './captured.ts';

/** Photos in the order in which they were given. */
export function combineShots(photos: readonly CapturedPhoto[]): Capture {
  const several = photos.length > 1;
  const pieces = photos.flatMap((photo) => photo.pieces);
  return {
    photos,
    pieces: pieces.map((piece, index) => ({ ...piece, id: `p${index + 1}` })),
    warnings: photos.flatMap((photo) =>
      photo.warnings.map(({ code, message }) => ({ code, message: several ? `${photo.file}: ${message}` : message })),
    ),
  };
}
