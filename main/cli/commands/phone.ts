// phone: what photos have taught about the lenses of this person's phones; shown and deleted here.
import { isSettled } from '../../../shared/vision/plane/phoneProfile.ts';
import { type KnownPhone, phoneStore } from '../../files/phoneStore.ts';
import { EXIT, type ExitCode, end, need } from '../exitCodes.ts';
import type { CliSurroundings } from '../surroundings.ts';

export interface PhoneOptions {
  /** The default: without another wish the phones are listed. */
  readonly list?: boolean;
  readonly delete?: string;
  readonly json?: boolean;
}

export async function phone(options: PhoneOptions, around: CliSurroundings): Promise<ExitCode> {
  const store = phoneStore(around.disk, around.folders, around.now);
  if (options.delete !== undefined) {
    const gone = need(await store.forget(options.delete));
    if (!gone)
      end('phone-unknown', `Nothing is known about "${options.delete}"; notchwise phone --list shows the keys.`);
    if (!options.json) around.out(`What was known about "${options.delete}" is deleted.`);
    if (!options.list) {
      if (options.json) around.out(JSON.stringify({ deleted: options.delete }));
      return EXIT.done;
    }
  }
  const { phones, warnings } = need(await store.all());
  for (const { message } of warnings) around.err(message);
  if (options.json) around.out(JSON.stringify({ phones: phones.map(plain) }));
  else if (phones.length === 0) around.out('No photo has taught anything about a phone yet.');
  else for (const one of phones) around.out(sentence(one));
  return EXIT.done;
}

function plain(profile: KnownPhone) {
  const { key, make, model, lens, focal35Mm, photos, conflicts, mean, lastTaught } = profile;
  return {
    key,
    make,
    model,
    lens,
    focal35Mm,
    photos,
    conflicts,
    used: isSettled(profile),
    lastTaught: lastTaught ?? null,
    focalRatio: Math.exp(mean[0]),
    lensTerms: mean.slice(1),
  };
}

function sentence(profile: KnownPhone): string {
  const { key, photos, mean, lastTaught } = profile;
  const last = lastTaught === undefined ? '' : `, the last on ${lastTaught}`;
  const focal = ((Math.exp(mean[0]) - 1) * 100).toFixed(1);
  const use = isSettled(profile) ? '' : '; not used, because photos contradict one another';
  return `${key}: learnt from ${photos} ${photos === 1 ? 'photo' : 'photos'}${last}; focal length ${focal} % from what the phone states, lens terms ${mean[1].toFixed(3)} and ${mean[2].toFixed(3)}${use}`;
}
