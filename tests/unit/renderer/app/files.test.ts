// Files given to the window, as bytes. A dropped folder is a File that refuses to be read (File API, "NotReadableError").
import { expect, it } from 'vitest';
import { readFiles } from '../../../../renderer/app/files.ts';

const photo = new File([new Uint8Array([1, 2, 3])], 'front.jpg');
const folder = Object.assign(new File([], 'patterns'), {
  arrayBuffer: () => Promise.reject(new DOMException('The file could not be read', 'NotReadableError')),
});

it('keeps what can be read and names what cannot', async () => {
  const { files, unread } = await readFiles([photo, folder]);
  expect(files).toEqual([{ name: 'front.jpg', bytes: new Uint8Array([1, 2, 3]) }]);
  expect(unread).toMatch(/^patterns could not be read: .*take the files themselves\.$/);
});

it('says nothing when all could be read', async () => {
  expect((await readFiles([photo])).unread).toBeNull();
});
