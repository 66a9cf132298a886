// Pictures of shots and photos for the canvas: asked of the host once, kept as images, drawn when they have come.

import type { Actions } from '../app/actions.ts';
import { pictureAddress } from '../app/files.ts';
import type { ScenePicture } from './scene.ts';

const PHOTO_PX = 2048;

export interface Pictures {
  /** The image, or null while it is on its way; `onCome` is called when it has come. */
  readonly get: (document: string, picture: ScenePicture) => HTMLImageElement | null;
}

export function makePictures(
  bridge: Actions['bridge'],
  onCome: () => void,
  refuse: (sentence: string) => void,
): Pictures {
  const images = new Map<string, HTMLImageElement | null>();
  const load = async (key: string, document: string, { source }: ScenePicture): Promise<void> => {
    const reply =
      source.kind === 'shot'
        ? await bridge.call['shot.picture']({ document, shot: source.shot })
        : await bridge.call['photo.picture']({ photo: source.photo, maxSidePx: PHOTO_PX });
    if (!reply.ok) return refuse(reply.error.sentence);
    const image = new Image();
    image.src = pictureAddress(reply.value.bytes, reply.value.mime);
    await image.decode();
    images.set(key, image);
    onCome();
  };
  return {
    get: (document, picture) => {
      const key = `${document} ${JSON.stringify(picture.source)}`;
      const image = images.get(key);
      if (image === undefined) {
        images.set(key, null);
        load(key, document, picture).catch((error: unknown) =>
          refuse(
            `The picture could not be shown (${error instanceof Error ? error.message : String(error)}); the numbers are not touched by that.`,
          ),
        );
      }
      return image ?? null;
    },
  };
}
