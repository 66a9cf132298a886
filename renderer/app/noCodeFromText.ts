// The page's policy forbids making code from text. The schema library asks whether it may and falls back by itself, but
// the browser reports the question as a breach; this tells it beforehand. Must be imported before anything with a schema.

// The library's own global settings object; read once when it is loaded.
(globalThis as { __zod_globalConfig?: { jitless?: boolean } }).__zod_globalConfig = { jitless: true };
