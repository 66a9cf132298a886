// Text that goes into HTML or SVG, made safe, and numbers as a person reads them.

/** Escapes text for element content and quoted attributes. */
export function escapeText(text: string): string {
  return text.replace(/[&<>"']/g, (c) => ENTITIES[c] ?? c);
}

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Millimetres to a tenth, with a real minus sign. */
export function mmText(valueMm: number): string {
  const rounded = (Math.round(valueMm * 10) / 10).toFixed(1);
  return (rounded === '-0.0' ? '0.0' : rounded).replace('-', '\u2212');
}

/** A coordinate in a drawing: hundredths are finer than any printer. */
export function coordinate(value: number): string {
  return String(Math.round(value * 100) / 100);
}
