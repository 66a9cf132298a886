// trace: photos → pieces, as a set file, as sentences or as notchwise-trace/1.
import { basename, join } from 'node:path';
import { readPhoneProfile, writePhoneProfile } from '../../../shared/formats/phone/v1.ts';
import type { PatternSet } from '../../../shared/pattern/model.ts';
import type { Capture, CaptureOptions, Taped } from '../../../shared/usecases/captured.ts';
import { emptySet, takeIn } from '../../../shared/usecases/setFromCapture.ts';
import { nextShotNumber } from '../../../shared/usecases/shots.ts';
import { traceDocument } from '../../../shared/usecases/traceDocument.ts';
import { isSettled, joinProfiles, type PhoneProfile } from '../../../shared/vision/plane/phoneProfile.ts';
import { phoneStore } from '../../files/phoneStore.ts';
import { saveSet } from '../../files/setStore.ts';
import { captureFiles } from '../../imaging/captureFiles.ts';
import { keptPictures } from '../../imaging/keptPictures.ts';
import type { PhotoFile } from '../../imaging/visionJob.ts';
import { makeWorkerPool } from '../../imaging/workerPool.ts';
import { EXIT, type ExitCode, end, need } from '../exitCodes.ts';
import { pathOf, setAt, setPathOf } from '../paths.ts';
import type { CliSurroundings } from '../surroundings.ts';

export interface TraceOptions {
  readonly printScale?: { readonly x: number; readonly y: number };
  /** A file; false = neither use nor teach what is known about phones. */
  readonly phoneProfile?: string | false;
  readonly learnProfile?: string;
  readonly taped?: readonly Taped[];
  readonly separate?: boolean;
  readonly line: CaptureOptions['line'];
  readonly outline: CaptureOptions['outline'];
  readonly plan?: string;
  readonly size?: string;
  readonly out?: string;
  readonly json?: boolean;
}

export interface Traced {
  readonly capture: Capture;
  readonly set: PatternSet;
  readonly pictures: ReadonlyMap<string, Uint8Array>;
}

export async function trace(
  photos: readonly string[],
  options: TraceOptions,
  around: CliSurroundings,
): Promise<ExitCode> {
  const out = setPathOf(around, options.out);
  const traced = await traceFiles(photos, options, around);
  if (out !== null) need(await saveSet(around.disk, out, traced, around.now()));
  if (options.learnProfile !== undefined) await learn(traced.capture, options.learnProfile, around);
  if (options.json) around.out(JSON.stringify(traceDocument(traced.capture)));
  else tell(traced, options, around);
  return EXIT.done;
}

/** The photos read and taken into the plan (or an empty set); ends the command when no piece was found. */
export async function traceFiles(
  photos: readonly string[],
  options: TraceOptions,
  around: CliSurroundings,
): Promise<Traced> {
  const files = await photoFiles(photos, around);
  const opened = options.plan === undefined ? null : await setAt(around, options.plan);
  const into = opened?.set ?? emptySet(basename(options.out ?? files[0]!.name).replace(/\.[^.]*$/, ''));
  const capture: CaptureOptions = {
    printScale: options.printScale ?? null,
    line: options.line,
    outline: options.outline,
    phones: await phonesFor(options, around),
    taped: options.taped ?? [],
    arrangement: options.separate === true ? 'separate' : 'one-table',
  };
  const pool = makeWorkerPool();
  try {
    const { signal } = around;
    const progress = { report: () => {}, signal };
    const captured = need(await captureFiles(pool, files, capture, progress));
    if (captured.capture.pieces.length === 0) end('no-piece', noPiece(captured.capture));
    await teach(captured.capture, options, around);
    const kept = keptPictures(captured.tables, nextShotNumber(into));
    const size = options.size ?? into.baseSize;
    const taken = takeIn(captured.capture, { into, size, pictures: kept.pictures, printScale: capture.printScale });
    const warnings = [...captured.capture.warnings, ...taken.warnings];
    return {
      capture: { ...captured.capture, warnings },
      set: taken.set,
      pictures: new Map([...(opened?.pictures ?? []), ...kept.bytes]),
    };
  } finally {
    await pool.close();
  }
}

const PHOTO_NAME = /\.(jpe?g|png|webp|tiff?|hei[cf]|avif)$/i;

/** A folder stands for the photos in it. Names are told apart by their path where two are alike. */
async function photoFiles(typed: readonly string[], around: CliSurroundings): Promise<readonly PhotoFile[]> {
  const paths: string[] = [];
  for (const one of typed) {
    const path = pathOf(around, one);
    if (!(await around.disk.isFolder(path))) {
      paths.push(path);
      continue;
    }
    const inside = need(await around.disk.list(path)).filter((name) => PHOTO_NAME.test(name));
    if (inside.length === 0) {
      end('empty-folder', `The folder ${one} holds no photo (JPEG, PNG, WebP, TIFF or HEIC); name another.`);
    }
    paths.push(...inside.map((name) => join(path, name)));
  }
  const own = new Set(paths.map((path) => basename(path))).size === paths.length;
  const files: PhotoFile[] = [];
  for (const path of paths) {
    files.push({ name: own ? basename(path) : path, bytes: need(await around.disk.read(path)) });
  }
  return files;
}

/** The phone named by a file, or all that photos have taught by themselves. */
async function phonesFor(options: TraceOptions, around: CliSurroundings): Promise<readonly PhoneProfile[]> {
  if (options.phoneProfile === false) return [];
  if (options.phoneProfile !== undefined) return [await profileAt(options.phoneProfile, around)];
  const { phones, warnings } = need(await phoneStore(around.disk, around.folders, around.now).all());
  for (const { message } of warnings) around.err(message);
  return phones.filter(isSettled);
}

async function profileAt(typed: string, around: CliSurroundings): Promise<PhoneProfile> {
  const bytes = need(await around.disk.read(pathOf(around, typed)));
  return need(readPhoneProfile(typed, new TextDecoder().decode(bytes)));
}

function lessonsOf(capture: Capture): readonly PhoneProfile[] {
  return capture.photos.flatMap((photo) => (photo.learned === null ? [] : [photo.learned]));
}

/** Keeps what the photos taught; a full or read-only disk is no reason to lose the pieces. */
async function teach(capture: Capture, options: TraceOptions, around: CliSurroundings): Promise<void> {
  if (options.phoneProfile === false) return;
  const taught = await phoneStore(around.disk, around.folders, around.now).teach(lessonsOf(capture));
  if (!taught.ok) around.err(`What the photos taught about the phone was not kept: ${taught.error.sentence}`);
}

/** Adds what the photos taught to the file; photos that taught nothing say so. */
async function learn(capture: Capture, typed: string, around: CliSurroundings): Promise<void> {
  const [first, ...others] = lessonsOf(capture);
  if (first === undefined) {
    around.err(
      'These photos teach nothing certain about the phone; use more cards, spread wider, and the full picture.',
    );
    return;
  }
  const before = await around.disk.read(pathOf(around, typed));
  const known = before.ok ? need(readPhoneProfile(typed, new TextDecoder().decode(before.value))) : null;
  let profile = joinProfiles(known, first);
  for (const other of others) profile = joinProfiles(profile, other);
  need(await around.disk.write(pathOf(around, typed), writePhoneProfile(profile)));
}

function noPiece(capture: Capture): string {
  const [warning] = capture.warnings;
  const why = warning === undefined ? '' : ` (${warning.message})`;
  return `No pattern piece was found in the photos${why}; lay the piece flat on a table of another colour, whole in the picture.`;
}

function tell({ capture, set }: Traced, options: TraceOptions, around: CliSurroundings): void {
  for (const photo of capture.photos) {
    const { cards, tiltDeg, mmPerPixel } = photo.plane;
    around.out(
      `${photo.file}: ${cards.length} cards, tilt ${tiltDeg.toFixed(0)}°, ${mmPerPixel.toFixed(2)} mm a pixel, ${photo.pieces.length} pieces`,
    );
    const { worstRatio, advice } = photo.quality;
    const trust = Number.isFinite(worstRatio)
      ? `lengths are sure to ±${(200 * worstRatio).toFixed(2)} % where they are least sure`
      : 'part of the picture shows no table that could be measured';
    around.out(`  ${trust}`);
    for (const { message } of advice) around.out(`  To make it better: ${message}`);
  }
  for (const piece of capture.pieces) {
    const edges = piece.edges.map((edge) => `${edge.lengthMm.toFixed(1)} ± ${(2 * edge.sigmaMm).toFixed(1)}`);
    const several = piece.photos.length > 1 ? ` from ${piece.photos.join(' and ')}` : '';
    around.out(`${piece.id}${several}: edges ${edges.join(', ')} mm; ${piece.marks.length} marks`);
  }
  for (const warning of capture.warnings) around.err(warning.message);
  if (options.out !== undefined) around.out(`The set "${set.name}" is in ${pathOf(around, options.out)}`);
}
