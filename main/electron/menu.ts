// The application menu as plain data: what the window does itself is sent to it as an event.
import type { MenuItemConstructorOptions } from 'electron';
import type { EventValue } from '../../shared/contract/contract.ts';

export type MenuItemName = EventValue<'menu.chosen'>['item'];

export function menuTemplate(
  platform: NodeJS.Platform,
  choose: (item: MenuItemName) => void,
): MenuItemConstructorOptions[] {
  const item = (label: string, name: MenuItemName, accelerator: string): MenuItemConstructorOptions => ({
    label,
    accelerator,
    click: () => choose(name),
  });
  const file: MenuItemConstructorOptions = {
    label: 'File',
    submenu: [
      item('New set', 'new', 'CmdOrCtrl+N'),
      item('Open set …', 'open', 'CmdOrCtrl+O'),
      { type: 'separator' },
      item('Save', 'save', 'CmdOrCtrl+S'),
      item('Save as …', 'save-as', 'CmdOrCtrl+Shift+S'),
      item('Report', 'report', 'CmdOrCtrl+P'),
      { type: 'separator' },
      { role: platform === 'darwin' ? 'close' : 'quit' },
    ],
  };
  const edit: MenuItemConstructorOptions = {
    label: 'Edit',
    submenu: [
      item('Undo', 'undo', 'CmdOrCtrl+Z'),
      item('Redo', 'redo', 'CmdOrCtrl+Shift+Z'),
      { type: 'separator' },
      { role: 'cut' },
      { role: 'copy' },
      { role: 'paste' },
      { role: 'selectAll' },
    ],
  };
  const view: MenuItemConstructorOptions = {
    label: 'View',
    submenu: [
      { role: 'resetZoom' },
      { role: 'zoomIn' },
      { role: 'zoomOut' },
      { type: 'separator' },
      { role: 'togglefullscreen' },
    ],
  };
  return [...(platform === 'darwin' ? [{ role: 'appMenu' as const }] : []), file, edit, view];
}
