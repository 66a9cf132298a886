// A change of length with its sign: "+11 mm", "-5 mm", "0 mm".
import type { Words } from '../words.ts';

export function signedLength(mm: number, say: Words): string {
  const text = say.length(mm);
  return mm > 0 && text !== say.length(0) ? `+${text}` : text;
}
