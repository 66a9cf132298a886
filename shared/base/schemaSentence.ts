// One clear sentence from a schema's complaint: which field, what was expected, what stands there. The structural types keep
// the schema library out of this folder.

/** What a schema library says about one wrong value (zod 4's issues fit). */
export interface SchemaIssue {
  readonly code?: string | undefined;
  readonly path: readonly PropertyKey[];
  readonly message: string;
  readonly expected?: unknown;
  readonly values?: readonly unknown[];
  readonly minimum?: number | bigint;
  readonly maximum?: number | bigint;
  readonly origin?: string;
}

const SHOWN_VALUE_CHARS = 40;

/**
 * "pieces[2].name should be text, but is missing". `root` is the value that was judged.
 * Issues the table does not know fall back on the library's own message.
 */
export function schemaSentence(issue: SchemaIssue, root: unknown): string {
  const where = issue.path.length === 0 ? 'the whole' : fieldPath(issue.path);
  return `${where} should be ${expectation(issue)}, but ${found(valueAt(root, issue.path))}`;
}

/** pieces[2].shapes.M.ring[0] */
function fieldPath(path: readonly PropertyKey[]): string {
  return path.reduce<string>((text, key) => {
    if (typeof key === 'number') return `${text}[${key}]`;
    const name = String(key);
    const plain = /^[\w$-]+$/.test(name) ? name : JSON.stringify(name);
    return text === '' ? plain : `${text}.${plain}`;
  }, '');
}

function expectation(issue: SchemaIssue): string {
  switch (issue.code) {
    case 'invalid_type':
      return TYPE_WORDS[String(issue.expected)] ?? String(issue.expected);
    case 'invalid_value':
      return list(issue.values ?? []);
    case 'too_small':
      return `at least ${amount(issue.minimum, issue.origin)}`;
    case 'too_big':
      return `at most ${amount(issue.maximum, issue.origin)}`;
    case 'invalid_union':
      return 'one of the forms that the schema lists';
    default:
      return issue.message;
  }
}

const TYPE_WORDS: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  tuple: 'a list of fixed length',
  object: 'an object in braces',
  record: 'an object in braces',
};

function amount(limit: number | bigint | undefined, origin: string | undefined): string {
  const unit = origin === 'array' ? ' entries long' : origin === 'string' ? ' characters long' : '';
  return `${limit ?? '?'}${unit}`;
}

function list(values: readonly unknown[]): string {
  const shown = values.map((value) => JSON.stringify(value));
  return shown.length === 1 ? shown[0]! : `one of ${shown.join(', ')}`;
}

function found(value: unknown): string {
  if (value === undefined) return 'is missing';
  if (Array.isArray(value)) return `is a list of ${value.length}`;
  if (typeof value === 'object' && value !== null) return 'is an object';
  const text = typeof value === 'string' ? JSON.stringify(value) : String(value);
  return `is ${text.length > SHOWN_VALUE_CHARS ? `${text.slice(0, SHOWN_VALUE_CHARS)}…` : text}`;
}

function valueAt(root: unknown, path: readonly PropertyKey[]): unknown {
  let value = root;
  for (const key of path) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = (value as Record<PropertyKey, unknown>)[key];
  }
  return value;
}
