// The pages of the rules, bundled by the build; loaded when the first of them is opened.
import type { RulePages } from '../../shared/report/ruleText.ts';

const texts = import.meta.glob<string>('../../assets/rules/*.md', { query: '?raw', import: 'default', eager: true });

export const pages: RulePages = new Map(
  Object.entries(texts).map(([path, text]) => [path.replace(/^.*\/|\.md$/g, ''), text]),
);
