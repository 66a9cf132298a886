// The system's file dialogs; paths stay on this side.
import { join } from 'node:path';
import type { OpenDialogOptions, OpenDialogReturnValue, SaveDialogOptions, SaveDialogReturnValue } from 'electron';
import type { Dialogs } from '../service/parts.ts';

/** The little of electron's `dialog` that is used, bound to a window. */
export interface DialogPort {
  readonly showOpenDialog: (options: OpenDialogOptions) => Promise<OpenDialogReturnValue>;
  readonly showSaveDialog: (options: SaveDialogOptions) => Promise<SaveDialogReturnValue>;
}

const FILTERS = {
  set: [{ name: 'Sets', extensions: ['notchwise', 'json'] }],
  photos: [{ name: 'Photos', extensions: ['jpg', 'jpeg', 'png', 'webp', 'tif', 'tiff', 'heic', 'heif', 'avif'] }],
  drawings: [{ name: 'Drawings', extensions: ['svg'] }],
  table: [{ name: 'Tables of measurements', extensions: ['csv', 'tsv', 'txt', 'json'] }],
} as const;

export function makeDialogs(port: DialogPort, startFolder: string): Dialogs {
  return {
    pickFiles: async (kind) => {
      const { canceled, filePaths } = await port.showOpenDialog({
        defaultPath: startFolder,
        filters: FILTERS[kind].map(({ name, extensions }) => ({ name, extensions: [...extensions] })),
        properties: kind === 'set' || kind === 'table' ? ['openFile'] : ['openFile', 'multiSelections'],
      });
      return canceled ? [] : filePaths;
    },
    pickTarget: async (suggestedName) => {
      const { canceled, filePath } = await port.showSaveDialog({ defaultPath: join(startFolder, suggestedName) });
      return canceled || filePath === '' ? null : filePath;
    },
  };
}
