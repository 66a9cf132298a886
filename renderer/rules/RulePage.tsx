// Why a finding matters, in a line; and the whole page of its rule for whoever wants to know: what it judges by, with examples.
import { useEffect, useState } from 'preact/hooks';
import { type RulePages, ruleText } from '../../shared/report/ruleText.ts';

export function RulePage({ rule, why }: { readonly rule: string; readonly why: string }) {
  const [isOpen, setOpen] = useState(false);
  const [pages, setPages] = useState<RulePages | null>(null);
  useEffect(() => {
    if (isOpen && pages === null) void import('./pages.ts').then((loaded) => setPages(loaded.pages));
  }, [isOpen, pages]);
  const page = pages?.get(rule);
  return (
    <>
      <details>
        <summary>Why this matters</summary>
        <p>{why}</p>
      </details>
      <details onToggle={(event) => setOpen(event.currentTarget.open)}>
        <summary>The rule, with examples</summary>
        {page === undefined ? (
          <p>{pages === null ? 'Opening the page …' : 'This rule has no page.'}</p>
        ) : (
          // Our own page: every word in it is escaped where it is made.
          <section class="rule-page" aria-label={`Rule ${rule}`} dangerouslySetInnerHTML={{ __html: ruleText(page) }} />
        )}
      </details>
    </>
  );
}
