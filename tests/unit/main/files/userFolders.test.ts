import { describe, expect, it } from 'vitest';
import { fileNameFor } from '../../../../main/files/setStore.ts';
import { userFolders } from '../../../../main/files/userFolders.ts';

describe('where a person’s things lie', () => {
  const home = '/home/ines';
  it('follows the XDG base directories on Linux', () => {
    expect(userFolders({ platform: 'linux', home, env: {} })).toEqual({
      data: '/home/ines/.local/share/notchwise',
      logs: '/home/ines/.local/state/notchwise',
      archive: '/home/ines/Documents/Notchwise',
    });
    const env = { XDG_DATA_HOME: '/d', XDG_STATE_HOME: 'relative is ignored', XDG_DOCUMENTS_DIR: '/papers' };
    expect(userFolders({ platform: 'linux', home, env })).toEqual({
      data: '/d/notchwise',
      logs: '/home/ines/.local/state/notchwise',
      archive: '/papers/Notchwise',
    });
  });
  it('follows the Library on a Mac', () => {
    expect(userFolders({ platform: 'darwin', home, env: {} }).data).toBe(
      '/home/ines/Library/Application Support/Notchwise',
    );
  });
  it('can be put below one folder', () => {
    expect(userFolders({ platform: 'linux', home, env: { NOTCHWISE_HOME: '/n' } }).archive).toBe('/n/archive');
  });
});

describe('a file name for a set', () => {
  for (const [title, name] of [
    ['Marl M after fitting', 'Marl M after fitting'],
    ['../../etc/passwd', 'etc passwd'],
    ['Rock <"größe" 38/40>', 'Rock größe 38 40'],
    ['...', 'set'],
    ['', 'set'],
  ] as const) {
    it(`${JSON.stringify(title)} becomes ${JSON.stringify(name)}`, () => expect(fileNameFor(title)).toBe(name));
  }
});
