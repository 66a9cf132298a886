// Quantiles and shares for the benches.

/** NaN for nothing. */
export function quantile(values: readonly number[], share: number): number {
  if (values.length === 0) return Number.NaN;
  const sorted = values.toSorted((a, b) => a - b);
  const at = share * (sorted.length - 1);
  const low = Math.floor(at);
  const high = Math.min(sorted.length - 1, low + 1);
  return sorted[low]! + (at - low) * (sorted[high]! - sorted[low]!);
}

export function share(flags: readonly boolean[]): number {
  return flags.length === 0 ? Number.NaN : flags.filter(Boolean).length / flags.length;
}

/** Columns padded to their widest cell. */
export function printTable(title: string, rows: readonly (readonly string[])[]): void {
  console.log(`\n${title}`);
  const widths = rows[0]!.map((_, column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  for (const row of rows)
    console.log(
      row
        .map((cell, column) => cell.padEnd(widths[column]!))
        .join('  ')
        .trimEnd(),
    );
}
