// The window over HTTP on 127.0.0.1: the built renderer's files, the requests of the contract as POST /api/NAME, events as
// a stream. Nothing is answered without the token of this run, except the page itself, which holds no data.

import { readFile } from 'node:fs/promises';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { fail, ok, type Result } from '../../shared/base/result.ts';
import { FRAME_MIME, packFrame, type TextCodec, unpackFrame } from '../../shared/contract/frame.ts';
import type { Dispatch } from '../service/dispatch.ts';
import { PAGE_HEADERS, servedFile } from '../service/pageFiles.ts';
import type { EventListener } from '../service/parts.ts';
import { isOwnHost, isOwnOrigin, isToken } from './security.ts';

export interface LoopbackParts {
  readonly dispatch: Dispatch;
  readonly listen: (listener: EventListener) => () => void;
  /** The folder of the built renderer. */
  readonly rendererFolder: string;
  /** Random, at least 128 bits, new for each run. */
  readonly token: string;
  /** 0 = any free port. */
  readonly port: number;
  readonly reportBug: (error: unknown) => Promise<string>;
}

export interface LoopbackServer {
  /** The address to open, with the token behind the #, where it reaches no server log. */
  readonly address: string;
  readonly origin: string;
  readonly close: () => Promise<void>;
}

/** Photos are at most some tens of megabytes each; a request beyond this is a mistake. */
const MAX_REQUEST_BYTES = 1_000_000_000;
const TOKEN_HEADER = 'x-notchwise-token';

const utf8: TextCodec = {
  encode: (text) => new TextEncoder().encode(text),
  decode: (bytes) => new TextDecoder().decode(bytes),
};

export async function startLoopback(parts: LoopbackParts): Promise<Result<LoopbackServer>> {
  const streams = new Set<ServerResponse>();
  const unlisten = parts.listen((name, value) => {
    const line = `event: ${name}\ndata: ${JSON.stringify(value)}\n\n`;
    for (const stream of streams) stream.write(line);
  });
  const server = createServer((request, response) => {
    answer(parts, streams, portOf(server), request, response).catch(async (error: unknown) => {
      const sentence = await parts.reportBug(error);
      if (!response.headersSent) response.writeHead(500, PAGE_HEADERS);
      response.end(sentence);
    });
  });
  const listening = await listenOn(server, parts.port);
  if (!listening.ok) return listening;
  const origin = `http://127.0.0.1:${portOf(server)}`;
  return ok({
    origin,
    address: `${origin}/#${parts.token}`,
    close: () =>
      new Promise((done) => {
        unlisten();
        for (const stream of streams) stream.end();
        server.close(() => done());
        server.closeAllConnections();
      }),
  });
}

async function answer(
  parts: LoopbackParts,
  streams: Set<ServerResponse>,
  port: number,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  const { host, origin } = request.headers;
  if (!isOwnHost(host, port) || !isOwnOrigin(origin, port)) return refuse(response, 403);
  const path = (request.url ?? '/').split('?')[0]!;
  if (!path.startsWith('/api/')) {
    return request.method === 'GET' ? serve(parts.rendererFolder, path, response) : refuse(response, 405);
  }
  if (path === '/api/events' && request.method === 'GET') {
    // A stream cannot send headers of its own, so its token comes in the query.
    const token = new URL(request.url ?? '/', 'http://127.0.0.1').searchParams.get('token') ?? undefined;
    return isToken(token, parts.token) ? stream(streams, response) : refuse(response, 403);
  }
  const given = request.headers[TOKEN_HEADER];
  if (!isToken(typeof given === 'string' ? given : undefined, parts.token)) return refuse(response, 403);
  if (request.method !== 'POST') return refuse(response, 405);
  if (request.headers['content-type'] !== FRAME_MIME) return refuse(response, 415);
  const body = await readBody(request);
  if (body === null) return refuse(response, 413);
  const args = unpackFrame(body, utf8);
  const reply = args.ok ? await parts.dispatch(path.slice('/api/'.length), args.value) : args;
  response.writeHead(200, { ...PAGE_HEADERS, 'Content-Type': FRAME_MIME });
  response.end(packFrame(reply, utf8));
}

async function serve(folder: string, path: string, response: ServerResponse): Promise<void> {
  const file = servedFile(folder, path);
  if (file === null) return refuse(response, 404);
  let content: Buffer;
  try {
    content = await readFile(file.path);
  } catch {
    return refuse(response, 404); // what cannot be read is not served, whatever the reason
  }
  response.writeHead(200, { ...PAGE_HEADERS, 'Content-Type': file.mime });
  response.end(content);
}

function stream(streams: Set<ServerResponse>, response: ServerResponse): void {
  response.writeHead(200, { ...PAGE_HEADERS, 'Content-Type': 'text/event-stream' });
  response.write(':\n\n');
  streams.add(response);
  response.on('close', () => streams.delete(response));
}

function refuse(response: ServerResponse, status: number): void {
  response.writeHead(status, { ...PAGE_HEADERS, 'Content-Type': 'text/plain; charset=utf-8', Connection: 'close' });
  response.end(`${status}\n`);
}

/** Null when it is too long. */
async function readBody(request: IncomingMessage): Promise<Uint8Array | null> {
  const chunks: Buffer[] = [];
  let length = 0;
  for await (const chunk of request as AsyncIterable<Buffer>) {
    length += chunk.length;
    if (length > MAX_REQUEST_BYTES) return null;
    chunks.push(chunk);
  }
  return new Uint8Array(Buffer.concat(chunks));
}

function portOf(server: Server): number {
  const address = server.address();
  return typeof address === 'object' && address !== null ? address.port : 0;
}

function listenOn(server: Server, port: number): Promise<Result<void>> {
  return new Promise((done) => {
    server.once('error', (error) =>
      done(
        fail('no-port', `The window could not be served on port ${port} (${error.message}); choose another --port.`),
      ),
    );
    server.listen(port, '127.0.0.1', () => done(ok(undefined)));
  });
}
