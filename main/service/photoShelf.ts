// Photos that the window has handed in, by handle, until a capture reads them.
import { fail, ok, type Result } from '../../shared/base/result.ts';
import type { CallValue } from '../../shared/contract/contract.ts';
import { examinePhoto } from '../imaging/decodePhoto.ts';
import type { PhotoFile } from '../imaging/visionJob.ts';

export interface PhotoShelf {
  readonly add: (files: readonly PhotoFile[]) => Promise<CallValue<'photos.add'>>;
  readonly get: (handle: string) => Result<PhotoFile>;
  readonly all: (handles: readonly string[]) => Result<readonly PhotoFile[]>;
}

export function makePhotoShelf(newHandle: () => string): PhotoShelf {
  const shelf = new Map<string, PhotoFile>();
  const get = (handle: string): Result<PhotoFile> => {
    const photo = shelf.get(handle);
    return photo === undefined ? fail('no-photo', 'This photo is not held any more; add it again.') : ok(photo);
  };
  return {
    get,
    all: (handles) => {
      const found: PhotoFile[] = [];
      for (const handle of handles) {
        const photo = get(handle);
        if (!photo.ok) return photo;
        found.push(photo.value);
      }
      return ok(found);
    },
    add: async (files) => {
      const photos: CallValue<'photos.add'>['photos'] = [];
      const refused: CallValue<'photos.add'>['refused'] = [];
      for (const { name, bytes } of files) {
        const examined = await examinePhoto(name, bytes);
        if (!examined.ok) {
          refused.push({ name, ...examined.error });
          continue;
        }
        const photo = newHandle();
        const own = ownName(name, shelf);
        shelf.set(photo, { name: own, bytes });
        const { widthPx, heightPx, warnings } = examined.value;
        photos.push({ photo, name: own, widthPx, heightPx, warnings: [...warnings] });
      }
      return { photos, refused };
    },
  };
}

/** Two cameras may count alike: the second IMG_1.jpg becomes "IMG_1.jpg (2)", so that results can be told apart. */
function ownName(name: string, shelf: ReadonlyMap<string, PhotoFile>): string {
  const taken = new Set([...shelf.values()].map((photo) => photo.name));
  let own = name;
  for (let copy = 2; taken.has(own); copy++) own = `${name} (${copy})`;
  return own;
}
