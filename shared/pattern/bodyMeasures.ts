// The vocabulary of body measurements: one spelling for each, what it means and how it is taken. A measure that is not in the
// list is kept as it was typed and compared with nothing.

export interface BodyMeasureName {
  readonly name: string;
  /** Where the tape lies. */
  readonly how: string;
}

/** In the order in which they are taken. */
export const BODY_MEASURES: readonly BodyMeasureName[] = [
  { name: 'height', how: 'from the crown to the floor, without shoes' },
  { name: 'head', how: 'the largest girth above the ears, level' },
  { name: 'neck', how: 'around the base of the neck, over the bone at the back' },
  { name: 'shoulders', how: 'around both shoulders with the arms hanging' },
  { name: 'bust', how: 'the largest girth under the arms and over the bust, level, breathing normally' },
  { name: 'waist', how: 'around the waist where the garment is to sit' },
  { name: 'hip', how: 'the largest girth over the seat, level' },
  { name: 'hip depth', how: 'from the waist down the side to where the hip was measured' },
  { name: 'biceps', how: 'the largest girth of the upper arm, the elbow bent' },
  { name: 'hand', how: 'around the widest part of the hand, the thumb laid in' },
  { name: 'thigh', how: 'the largest girth of the leg, just below the crotch' },
  { name: 'foot', how: 'around heel and instep, the foot pointed' },
  { name: 'across back', how: 'from arm to arm across the shoulder blades, half-way down the armhole' },
  { name: 'across front', how: 'from arm to arm across the chest, half-way down the armhole' },
  { name: 'shoulder', how: 'from the base of the neck to the point of the shoulder' },
  { name: 'back length', how: 'from the bone at the back of the neck to the waist' },
  { name: 'sleeve length', how: 'from the point of the shoulder over the bent elbow to the wrist' },
  { name: 'crotch depth', how: 'sitting: from the waist down the side to the seat' },
  { name: 'inseam', how: 'from the crotch down the inside of the leg to where the trousers are to end' },
  { name: 'skirt length', how: 'from the waist down to where the skirt is to end' },
];

const SYNONYMS: Readonly<Record<string, string>> = {
  chest: 'bust',
  'bust girth': 'bust',
  'chest girth': 'bust',
  'waist girth': 'waist',
  hips: 'hip',
  seat: 'hip',
  'hip girth': 'hip',
  'waist to hip': 'hip depth',
  bicep: 'biceps',
  'upper arm': 'biceps',
  'upper arm girth': 'biceps',
  'head girth': 'head',
  'neck girth': 'neck',
  'neck base': 'neck',
  'shoulder girth': 'shoulders',
  'hand girth': 'hand',
  'thigh girth': 'thigh',
  'heel girth': 'foot',
  'back width': 'across back',
  'front width': 'across front',
  'shoulder length': 'shoulder',
  'back waist': 'back length',
  'back waist length': 'back length',
  'nape to waist': 'back length',
  arm: 'sleeve length',
  'arm length': 'sleeve length',
  'body rise': 'crotch depth',
  rise: 'crotch depth',
  'inside leg': 'inseam',
  stature: 'height',
};

/** "Hips " and "hip" are the same measure; words that are not known stay, in lower case. */
export function normalMeasure(name: string): string {
  const plain = name.trim().toLowerCase().replaceAll(/[_-]+/g, ' ').replaceAll(/\s+/g, ' ');
  return SYNONYMS[plain] ?? plain;
}

/** True for a measure that something is compared with. */
export function isKnownMeasure(name: string): boolean {
  return BODY_MEASURES.some((known) => known.name === name);
}

/** The measures of a body under their one spelling; of two spellings of one measure the last counts. */
export function normalMeasures(measuresMm: Readonly<Record<string, number>>): Readonly<Record<string, number>> {
  return Object.fromEntries(Object.entries(measuresMm).map(([name, mm]) => [normalMeasure(name), mm]));
}
