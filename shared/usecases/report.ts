// The report of a set: checked, walked and drawn on one page.
import { contextOf } from '../checks/context.ts';
import { runChecks } from '../checks/engine.ts';
import type { PatternSet } from '../pattern/model.ts';
import { reportHtml } from '../report/html.ts';
import type { RulePages } from '../report/ruleText.ts';

/** A self-contained HTML page. */
export function reportOf(set: PatternSet, pages: RulePages): string {
  const { findings } = runChecks(set);
  return reportHtml({ set, findings, walks: contextOf(set).walks(), pages });
}
