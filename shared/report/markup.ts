// Text that goes into HTML or SVG, made safe.

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

/** A coordinate in a drawing: hundredths are finer than any printer. */
export function coordinate(value: number): string {
  return String(Math.round(value * 100) / 100);
}
