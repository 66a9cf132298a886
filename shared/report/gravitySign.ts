// How heavy a finding is, as shape and word as well as colour, so that it reads in grey and for every eye.
import type { Finding, Gravity } from '../checks/finding.ts';

export interface Sign {
  /** A drawing in a 24 x 24 box, `currentColor`. */
  readonly shape: string;
  readonly word: string;
  readonly colour: string;
}

/** Contrast on the report's paper white is at least 4.5 : 1. */
const SIGNS: Readonly<Record<Gravity | 'unsure' | 'clear', Sign>> = {
  stop: { word: 'Stop', colour: '#8c1c3a', shape: '<path d="M3 3h18v18H3z"/><path d="M7 10.5h10v3H7z" fill="#fff"/>' },
  mend: {
    word: 'Mend',
    colour: '#9a4a00',
    shape: '<path d="M12 2 23 21H1z"/><path d="M10.8 9h2.4v6h-2.4zm0 7.5h2.4v2.4h-2.4z" fill="#fff"/>',
  },
  look: {
    word: 'Look',
    colour: '#1f5673',
    shape: '<path d="M1 12C6 4 18 4 23 12 18 20 6 20 1 12z"/><circle cx="12" cy="12" r="4" fill="#fff"/>',
  },
  note: { word: 'Note', colour: '#4a5358', shape: '<path d="M4 10.5h16v3H4z"/>' },
  unsure: {
    word: 'Measure again',
    colour: '#5b3f8c',
    shape:
      '<circle cx="12" cy="12" r="10" fill="none" stroke="currentColor" stroke-width="3" stroke-dasharray="5 3.4"/>',
  },
  clear: { word: 'Clear', colour: '#2c6141', shape: '<path d="M9.5 19 2.5 12l2.6-2.6 4.4 4.4L19 4.3l2.6 2.6z"/>' },
};

/** The sign of a finding: its gravity when it is a fault, else what its verdict asks for. */
export function signOf(finding: Pick<Finding, 'verdict' | 'gravity'>): Sign {
  switch (finding.verdict) {
    case 'fault':
      return SIGNS[finding.gravity];
    case 'unsure':
      return SIGNS.unsure;
    case 'clear':
      return SIGNS.clear;
    case 'not-applicable':
      return SIGNS.note;
  }
}

export function signSvg(sign: Sign, sizePx: number): string {
  return `<svg class="sign" viewBox="0 0 24 24" width="${sizePx}" height="${sizePx}" style="color:${sign.colour}" fill="currentColor" aria-hidden="true">${sign.shape}</svg>`;
}
