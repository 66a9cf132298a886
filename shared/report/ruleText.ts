// The page of a rule (assets/rules) as HTML: what reports and the window show to whoever asks why. Only the signs that those
// pages use are known: headings, paragraphs, lists, quotes, tables, bold and code.
import { escapeText } from './markup.ts';

/** Pages by the id of their rule, as `npm run rules` writes them. */
export type RulePages = ReadonlyMap<string, string>;

/** The page without its own name and id, to stand under a heading of the third level; every word is escaped. */
export function ruleText(page: string): string {
  return page
    .trim()
    .split(/\n{2,}/)
    .filter((block) => !block.startsWith('# ') && !block.startsWith('Rule `'))
    .map(blockHtml)
    .join('');
}

/** The name of the rule, from the heading of its page. */
export function ruleTitle(page: string): string {
  return /^# (.+)$/m.exec(page)?.[1] ?? '';
}

function blockHtml(block: string): string {
  if (block.startsWith('## ')) return `<h4>${inline(block.slice(3))}</h4>`;
  if (block.startsWith('> ')) return `<blockquote>${inline(block.slice(2))}</blockquote>`;
  if (block.startsWith('|')) return tableHtml(block.split('\n'));
  const lines = block.split('\n');
  const items = lines.filter((line) => line.startsWith('- '));
  const words = lines.filter((line) => !line.startsWith('- '));
  const list = items.map((item) => `<li>${inline(item.slice(2))}</li>`).join('');
  return `${words.length === 0 ? '' : `<p>${inline(words.join(' '))}</p>`}${list === '' ? '' : `<ul>${list}</ul>`}`;
}

function tableHtml([head, , ...rows]: readonly string[]): string {
  const cells = (row: string) => row.split('|').slice(1, -1);
  const line = (row: string, cell: 'th' | 'td') =>
    `<tr>${cells(row)
      .map((text) => `<${cell}>${text.split('<br>').map(inline).join('<br>')}</${cell}>`)
      .join('')}</tr>`;
  return `<table>${line(head ?? '', 'th')}${rows.map((row) => line(row, 'td')).join('')}</table>`;
}

function inline(text: string): string {
  return escapeText(text.trim())
    .replace(/\*\*(.+?)\*\*/g, '<b>$1</b>')
    .replace(/`(.+?)`/g, '<code>$1</code>');
}
