// Ends an exhaustive switch: a new member of a union must break the build wherever it matters.

export function assertNever(value: never): never {
  throw new Error(`unexpected value: ${JSON.stringify(value)}`);
}
