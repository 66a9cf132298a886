// The colours of the canvas: paper, ink and chalk, as in tokens.css. Sides of a seam differ in dash as well as in colour.

export const PALETTE = {
  paper: '#fffdf7',
  ink: '#26313a',
  inkFaint: '#7b8487',
  seamline: '#66727a',
  chalk: '#0f6b78',
  chalkSoft: '#cfe3e4',
  word: '#26313a',
  wordFaint: '#656d70',
  traced: '#c2185b',
  unsure: '#9a4a00',
  before: '#7a2f86',
  after: '#0a4f59',
  tracedHalo: '#ffffff',
  sides: ['#8a4b08', '#0f6b78'],
} as const;

/** Widths and sizes on the screen, pixels. */
export const SCREEN_PX = {
  line: 1.6,
  lineSelected: 2.6,
  thin: 1,
  highlight: 6,
  overlay: 5,
  dot: 4,
  dotSelected: 7,
  handle: 3.2,
  notch: 9,
  name: 15,
  label: 12,
  arrow: 11,
} as const;
