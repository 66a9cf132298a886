// Keys that work wherever the focus is: undo, redo, save, tools. Typing in a field is left alone.
import { useEffect } from 'preact/hooks';
import type { Store } from '../state/store.ts';
import { AREAS, type WindowState } from '../state/windowState.ts';
import { TOOLS } from '../tools/registry.ts';
import type { Actions } from './actions.ts';

export function useWindowKeys(store: Store<WindowState>, actions: Actions): void {
  useEffect(() => {
    const down = (event: KeyboardEvent) => {
      if (event.defaultPrevented) return;
      if (onKey(event, store.get(), actions)) event.preventDefault();
    };
    window.addEventListener('keydown', down);
    const unlisten = actions.bridge.on['menu.chosen'](({ item }) => onMenu(item, actions));
    return () => {
      window.removeEventListener('keydown', down);
      unlisten();
    };
  }, [store, actions]);
}

function onKey(event: KeyboardEvent, state: WindowState, actions: Actions): boolean {
  const key = event.key.toLowerCase();
  if (event.ctrlKey || event.metaKey) {
    if (key === 's') {
      void actions.save();
      return true;
    }
    if (isTyping(event.target)) return false;
    if (key === 'z' && !event.shiftKey) actions.undo();
    else if (key === 'y' || (key === 'z' && event.shiftKey)) actions.redo();
    else return false;
    return true;
  }
  if (isTyping(event.target) || event.altKey) return false;
  const area = AREAS[Number(key) - 1];
  if (area !== undefined) {
    actions.show(area);
    return true;
  }
  const tool = state.area === 'pieces' ? TOOLS.find((one) => one.key === key) : undefined;
  if (tool === undefined) return false;
  actions.patch({ tool: tool.id });
  return true;
}

function onMenu(
  item: Parameters<Parameters<Actions['bridge']['on']['menu.chosen']>[0]>[0]['item'],
  actions: Actions,
): void {
  switch (item) {
    case 'new':
      void actions.newSet('My pattern');
      return;
    case 'open':
      void actions.openSet('pick');
      return;
    case 'save':
      void actions.save();
      return;
    case 'save-as':
      actions.show('archive');
      return;
    case 'undo':
      actions.undo();
      return;
    case 'redo':
      actions.redo();
      return;
    case 'report':
      void actions.report();
      return;
  }
}

function isTyping(target: EventTarget | null): boolean {
  if (target instanceof HTMLInputElement) return !/^(range|checkbox|radio)$/.test(target.type);
  return target instanceof HTMLElement && /^(TEXTAREA|SELECT)$/.test(target.tagName);
}
