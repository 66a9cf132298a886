// Opening, saving and handing out: where the host has dialogs it asks there, else bytes go through the window.
import { assertNever } from '../../shared/base/assertNever.ts';
import type { CallValue } from '../../shared/contract/contract.ts';
import { currentSet } from '../state/windowState.ts';
import type { ActionParts } from './actionParts.ts';
import { download, type GivenFile, readFiles, sortOf } from './files.ts';

/** The name of a set that begins with photos. */
const FIRST_NAME = 'My pattern';

export function makeFileActions({ store, bridge, tell, refuse, keeper, during }: ActionParts) {
  const canPick = () => store.get().host?.canPick === true;
  const handle = () => store.get().open?.handle ?? null;

  /** False, with a sentence, while photos are read: they belong to the set that is open. */
  const mayLeaveSet = (): boolean => {
    if (store.get().capture.job === null) return true;
    tell('error', 'Photos are being read into this set; open another when that is done, or cancel the reading.');
    return false;
  };
  const newSet = async (name: string): Promise<boolean> => {
    if (!mayLeaveSet()) return false;
    const reply = await bridge.call['set.new']({ name });
    if (!reply.ok) {
      refuse(reply.error);
      return false;
    }
    return keeper.take(reply.value);
  };
  /** The handle of the open set; a new one when none is open. */
  const needSet = async (): Promise<string | null> => {
    if (handle() === null && !(await newSet(FIRST_NAME))) return null;
    await keeper.flush();
    return handle();
  };
  const openSet = async (files: readonly GivenFile[] | 'pick'): Promise<void> => {
    if (!mayLeaveSet()) return;
    await keeper.flush();
    const from = files === 'pick' ? { kind: 'pick' as const } : { kind: 'given' as const, files: [...files] };
    const reply = await during('Opening', () => bridge.call['set.open']({ from }));
    if (!reply.ok) return refuse(reply.error);
    if (!keeper.take(reply.value)) return;
    const set = currentSet(store.get());
    const traced = set?.pieces.filter((piece) => Object.keys(piece.shapes).length > 0).length ?? 0;
    tell('done', `"${reply.value.title}" is open: ${set?.pieces.length ?? 0} pieces, ${traced} of them traced.`);
  };
  const addPhotos = async (files: readonly GivenFile[] | 'pick'): Promise<void> => {
    const document = await needSet();
    if (document === null) return;
    const from = files === 'pick' ? { kind: 'pick' as const } : { kind: 'given' as const, files: [...files] };
    const reply = await during('Taking the photos in', () => bridge.call['photos.add']({ document, from }));
    if (!reply.ok) return refuse(reply.error);
    const { photos, refused } = reply.value;
    const added = photos.map((one) => ({
      ...one,
      notes: one.warnings.map(({ message }) => message),
      thumbnail: null,
      reading: { state: 'waiting' as const },
      look: null,
    }));
    store.set((s) => ({
      ...s,
      area: 'photos',
      capture: {
        ...s.capture,
        photos: [...s.capture.photos, ...added],
        refused: refused.map(({ name, sentence }) => ({ name, sentence })),
      },
      shown: added[0] === undefined ? s.shown : { kind: 'photo', photo: added[0].photo },
      goTo: { kind: 'all' },
    }));
  };
  const importDrawings = async (files: readonly GivenFile[] | 'pick'): Promise<void> => {
    const document = await needSet();
    if (document === null) return;
    const from = files === 'pick' ? { kind: 'pick' as const } : { kind: 'given' as const, files: [...files] };
    const reply = await during('Reading the drawing', () => bridge.call.import({ document, from }));
    if (!reply.ok) return refuse(reply.error);
    keeper.takeChange(reply.value, 'Take in a drawing');
    for (const { message } of reply.value.warnings) tell('error', message);
    store.set((s) => ({ ...s, area: 'pieces' }));
  };
  const handOut = (written: CallValue<'export'>): void => {
    for (const { name, mime, bytes } of written.files) download(name, mime, bytes);
    tell('done', written.sentence ?? `${written.names.join(', ')} went to your downloads.`);
  };
  const saveAs = async (name: string, to: 'archive' | 'pick' | 'window'): Promise<void> => {
    const document = handle();
    if (document === null) return;
    await keeper.flush();
    const where = to === 'archive' ? { kind: to, name } : { kind: to };
    const reply = await during('Saving', () => bridge.call['set.saveAs']({ document, to: where }));
    if (!reply.ok) return refuse(reply.error);
    handOut(reply.value);
    if (to !== 'window') saved(reply.value.names[0] ?? null);
  };
  const saved = (savedAs: string | null) =>
    store.set((s) =>
      s.open === null ? s : { ...s, open: { ...s.open, savedAs: savedAs ?? s.open.savedAs, unsaved: false } },
    );

  return {
    newSet,
    openSet,
    addPhotos,
    importDrawings,
    saveAs,
    /** Files dropped anywhere on the window: each goes where its kind belongs. */
    takeFiles: async (dropped: Iterable<File>): Promise<void> => {
      const { files, unread } = await readFiles(dropped);
      const of = (sort: ReturnType<typeof sortOf>) => files.filter(({ name }) => sortOf(name) === sort);
      const [sets, drawings, photos] = [of('set'), of('drawing'), of('photo')];
      if (sets[0] !== undefined) await openSet([sets[0]]);
      if (drawings.length > 0) await importDrawings(drawings);
      if (photos.length > 0) await addPhotos(photos);
      if (unread !== null) tell('error', unread);
    },
    save: async (): Promise<void> => {
      const document = handle();
      const set = currentSet(store.get());
      if (document === null || set === null) return;
      await keeper.flush();
      const reply = await during('Saving', () => bridge.call['set.save']({ document }));
      if (reply.ok) {
        saved(reply.value.names[0] ?? null);
        tell('done', reply.value.sentence ?? 'Saved.');
      } else if (reply.error.code === 'never-saved') {
        await saveAs(set.name, canPick() ? 'pick' : 'archive');
      } else refuse(reply.error);
    },
    exportAs: async (kind: 'svg' | 'pdf', page: 'one' | 'a4' | 'letter'): Promise<void> => {
      const set = currentSet(store.get());
      if (set === null) return;
      const to = canPick() ? ({ kind: 'pick' } as const) : ({ kind: 'window' } as const);
      const reply = await during('Drawing the pieces', () =>
        bridge.call.export({ set: keeper.documentOf(set), as: kind, page, to }),
      );
      if (reply.ok) handOut(reply.value);
      else refuse(reply.error);
    },
    report: async (): Promise<void> => {
      const set = currentSet(store.get());
      if (set === null) return;
      const reply = await during('Writing the report', () =>
        bridge.call['report.html']({ set: keeper.documentOf(set) }),
      );
      if (!reply.ok) return refuse(reply.error);
      const name = `${set.name}.html`;
      download(name, 'text/html', new TextEncoder().encode(reply.value.html));
      tell('done', `${name} went to your downloads; open it in a browser to read or print it.`);
    },
    printCards: async (page: 'a4' | 'letter'): Promise<void> => {
      const to = canPick() ? ({ kind: 'pick' } as const) : ({ kind: 'window' } as const);
      const reply = await during('Drawing the cards', () => bridge.call['card.page']({ page, as: 'pdf', to }));
      if (reply.ok) handOut(reply.value);
      else refuse(reply.error);
    },
    /** Files through the host's dialog, or through the file input that the caller clicks: gives false for the latter. */
    pick: (sort: 'set' | 'photos' | 'drawings'): boolean => {
      if (!canPick()) return false;
      switch (sort) {
        case 'set':
          void openSet('pick');
          return true;
        case 'photos':
          void addPhotos('pick');
          return true;
        case 'drawings':
          void importDrawings('pick');
          return true;
        default:
          return assertNever(sort);
      }
    },
  };
}
