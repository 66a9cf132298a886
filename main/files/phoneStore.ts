// What photos have taught about this person's phones, one small file for each phone and setting in the data folder: seen
// with `notchwise phone`, deleted there, never needed.
import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { ok, type Result, type Warning } from '../../shared/base/result.ts';
import { readPhoneProfile, writePhoneProfile } from '../../shared/formats/phone/v1.ts';
import { joinProfiles, type PhoneProfile } from '../../shared/vision/plane/phoneProfile.ts';
import type { Disk } from './disk.ts';
import type { UserFolders } from './userFolders.ts';

/** A profile, and the day on which a photo last taught it something (ISO 8601). */
export interface KnownPhone extends PhoneProfile {
  readonly lastTaught?: string | undefined;
}

export interface PhoneStore {
  /** Everything that is known, by key; files that cannot be read become warnings. */
  readonly all: () => Promise<
    Result<{ readonly phones: readonly KnownPhone[]; readonly warnings: readonly Warning[] }>
  >;
  /** Adds what photos taught by themselves. */
  readonly teach: (lessons: readonly PhoneProfile[]) => Promise<Result<void>>;
  /** False when nothing was known under the key. */
  readonly forget: (key: string) => Promise<Result<boolean>>;
}

const ENDING = '.json';

export function phoneStore(disk: Disk, folders: UserFolders, now: () => Date): PhoneStore {
  const folder = join(folders.data, 'phones');
  const all: PhoneStore['all'] = async () => {
    if (!(await disk.isFolder(folder))) return ok({ phones: [], warnings: [] });
    const names = await disk.list(folder);
    if (!names.ok) return names;
    const phones: KnownPhone[] = [];
    const warnings: Warning[] = [];
    for (const name of names.value.filter((entry) => entry.endsWith(ENDING))) {
      const bytes = await disk.read(join(folder, name));
      const read = bytes.ok ? readPhoneProfile(name, new TextDecoder().decode(bytes.value)) : bytes;
      if (read.ok) phones.push(read.value);
      else warnings.push({ code: read.error.code, message: read.error.sentence });
    }
    return ok({ phones: phones.toSorted((a, b) => a.key.localeCompare(b.key)), warnings });
  };
  return {
    all,
    teach: async (lessons) => {
      if (lessons.length === 0) return ok(undefined);
      const known = await all();
      if (!known.ok) return known;
      const made = await disk.makeFolder(folder);
      if (!made.ok) return made;
      const lastTaught = dayOf(now());
      const byKey = new Map<string, PhoneProfile>(known.value.phones.map((phone) => [phone.key, phone]));
      const changed = new Set<string>();
      for (const lesson of lessons) {
        const before = byKey.get(lesson.key) ?? null;
        const after = joinProfiles(before, lesson);
        if (after !== before) changed.add(lesson.key);
        byKey.set(lesson.key, after);
      }
      for (const key of changed) {
        const written = await disk.write(
          join(folder, fileOf(key)),
          writePhoneProfile({ ...byKey.get(key)!, lastTaught }),
        );
        if (!written.ok) return written;
      }
      return ok(undefined);
    },
    forget: async (key) => {
      const known = await all();
      if (!known.ok) return known;
      if (!known.value.phones.some((phone) => phone.key === key)) return ok(false);
      const removed = await disk.remove(join(folder, fileOf(key)));
      return removed.ok ? ok(true) : removed;
    },
  };
}

/** As the calendar on the wall has it. */
function dayOf(date: Date): string {
  const two = (number: number): string => String(number).padStart(2, '0');
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}

/** Readable for a person, and different for different keys. */
function fileOf(key: string): string {
  const readable = key
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '');
  return `${readable.slice(0, 60)}-${createHash('sha256').update(key).digest('hex').slice(0, 8)}${ENDING}`;
}
