// The pictures of the table that a set keeps: one JPEG a shot, with where it lies.
import type { ShotPicture } from '../../shared/pattern/model.ts';
import type { TableJpeg } from './visionJob.ts';

export interface KeptPictures {
  /** By photo name, for the set. */
  readonly pictures: ReadonlyMap<string, ShotPicture>;
  /** By file name inside the set file. */
  readonly bytes: ReadonlyMap<string, Uint8Array>;
}

/** `firstNumber` is the number of the first new shot: the pictures of earlier ones keep their names. */
export function keptPictures(tables: ReadonlyMap<string, TableJpeg>, firstNumber: number): KeptPictures {
  const pictures = new Map<string, ShotPicture>();
  const bytes = new Map<string, Uint8Array>();
  [...tables].forEach(([photo, { jpeg, ...place }], index) => {
    const file = `shot-${firstNumber + index}.jpg`;
    pictures.set(photo, { file, ...place });
    bytes.set(file, jpeg);
  });
  return { pictures, bytes };
}
