// The phone profile, version 1: what photos have taught about the lens of one phone at one setting. A prior for the plane
// solver, never a fixed truth.
import * as z from 'zod';
import { fail, ok, type Result } from '../../base/result.ts';
import { schemaSentence } from '../../base/schemaSentence.ts';

const PHONE_FORMAT = 'notchwise-phone/1';

const three = z.tuple([z.number(), z.number(), z.number()]);

export const phoneV1 = z.object({
  format: z.literal(PHONE_FORMAT),
  /** Phone and setting in one word: make, model, lens, focal length, zoom. */
  key: z.string().min(1),
  /** As the camera names itself in EXIF; a profile is only used for photos that say the same. */
  make: z.string(),
  model: z.string(),
  lens: z.string(),
  /** Focal length as 35 mm equivalent in EXIF: the setting that the profile belongs to. */
  focal35Mm: z.number().positive(),
  /** Natural logarithm of true over recorded focal length, first and second lens term. */
  mean: three,
  covariance: z.tuple([three, three, three]),
  /** How many photos taught it. */
  photos: z.number().int().min(1),
  /** Marks of the photos that taught it, so that a photo read twice teaches once. */
  taughtBy: z.array(z.string()).default([]),
  /** How often a photo contradicted what was known, so that learning began anew. */
  conflicts: z.number().int().min(0).default(0),
  /** Day of the last photo that taught something, ISO 8601. */
  lastTaught: z.iso.date().optional(),
});

/** The same fields as the capture uses them. */
export interface PhoneFields {
  readonly key: string;
  readonly make: string;
  readonly model: string;
  readonly lens: string;
  readonly focal35Mm: number;
  readonly mean: readonly [number, number, number];
  readonly covariance: readonly (readonly number[])[];
  readonly photos: number;
  readonly taughtBy: readonly string[];
  readonly conflicts: number;
  readonly lastTaught?: string | undefined;
}

export function readPhoneProfile(name: string, text: string): Result<PhoneFields> {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    return fail('broken-profile', `${name} is not a phone profile; make one with --learn-profile.`);
  }
  const parsed = phoneV1.safeParse(json);
  if (parsed.success) return ok(parsed.data);
  return fail('broken-profile', `${name} is not a phone profile: ${schemaSentence(parsed.error.issues[0]!, json)}.`);
}

export function writePhoneProfile(profile: PhoneFields): string {
  return `${JSON.stringify({ format: PHONE_FORMAT, ...profile }, null, 1)}\n`;
}
