import { once } from 'node:events';
import { connect, type Socket } from 'node:net';
import Fastify, { type FastifyInstance } from 'fastify';
import { afterEach, describe, expect, it } from 'vitest';
import {
  allowUpload,
  limitBodies,
  limitReaders,
  longestRequestMs,
  patience,
} from '../../server/plumbing/patience.ts';
import { acceptUploads, readUploads } from '../../server/plumbing/uploads.ts';
import { testApp } from '../support/test-app.ts';

const open: FastifyInstance[] = [];
afterEach(async () => {
  for (const app of open.splice(0)) await app.close();
});

const boundary = 'xyz';
const part = `--${boundary}\r\nContent-Disposition: form-data; name="photo"; filename="a.jpg"\r\n\r\n`;
const ending = `\r\n--${boundary}--\r\n`;
const wait = (ms: number) => new Promise((next) => setTimeout(next, ms));

/** A service that waits `formMs` for a form and longer for files, so that a test need not wait half a minute. */
async function service(formMs: number) {
  const app = Fastify({ bodyLimit: 1_000 });
  open.push(app);
  limitBodies(app, formMs);
  await acceptUploads(app);
  app.post('/form', (_request, reply) => reply.send('taken'));
  app.post(
    '/turned-away',
    { onRequest: async (_request, reply) => reply.code(303).send('go away') },
    () => '',
  );
  app.post('/upload', async (request) => {
    allowUpload(request, 20 * formMs);
    const { uploads } = await readUploads(request, 1_000);
    return `${uploads[0]?.bytes.length} bytes`;
  });
  await app.listen({ port: 0, host: '127.0.0.1' });
  const { port } = app.server.address() as { port: number };
  return (path: string, length: number, type = `multipart/form-data; boundary=${boundary}`) => {
    const socket = connect(port, '127.0.0.1');
    socket.write(
      `POST ${path} HTTP/1.1\r\nHost: bench\r\nContent-Type: ${type}\r\nContent-Length: ${length}\r\n\r\n`,
    );
    return { socket, said: heard(socket) };
  };
}

function heard(socket: Socket) {
  let text = '';
  socket.on('data', (chunk: Buffer) => {
    text += chunk.toString();
  });
  return { now: () => text, closed: once(socket, 'close').then(() => text) };
}

describe('a body that comes slowly', () => {
  it('ends its connection where it is a form', async () => {
    const post = await service(80);
    const { socket, said } = post('/form', 500, 'application/json');
    socket.write('{"a":');
    expect(await said.closed).toContain('408');
  });

  it('has more time where files are wanted', async () => {
    const post = await service(80);
    const body = 'x'.repeat(40);
    const { socket, said } = post('/upload', part.length + body.length + ending.length);
    socket.write(part);
    for (const letter of body.match(/.{10}/g) ?? []) {
      await wait(60);
      socket.write(letter);
    }
    socket.write(ending);
    while (!said.now().includes('bytes')) {
      if (socket.destroyed) break;
      await wait(10);
    }
    expect(said.now()).toContain('40 bytes');
    socket.destroy();
  });

  it('has no more of it than that, and none where somebody was turned away', async () => {
    const post = await service(20);
    const slow = post('/upload', 500);
    slow.socket.write(part);
    const stranger = post('/turned-away', 500);
    expect(await stranger.said.closed).toContain('303');
    expect(await slow.said.closed).toContain('408');
  });
});

describe('the service', () => {
  it('waits less than fifteen seconds for a form, long enough for ten megabytes over a weak line, and for nobody for ever', async () => {
    const { app } = await testApp();
    expect(app.server.requestTimeout).toBe(longestRequestMs);
    expect(patience.formMs).toBeLessThan(15_000);
    expect(app.initialConfig.connectionTimeout).toBeLessThan(15_000);
    // ten megabytes at half a megabit a second are 160 seconds
    expect(patience.uploadMs).toBeGreaterThan(160_000);
    expect(longestRequestMs).toBeLessThanOrEqual(300_000);
  });
});

describe('an answer that is read slowly', () => {
  const megabytes = 24_000_000;

  async function asked(readerMs: number) {
    const app = Fastify();
    open.push(app);
    limitReaders(app, readerMs);
    let ended: Promise<unknown> | null = null;
    app.get('/large', (request, reply) => {
      ended = once(request.raw.socket, 'close');
      return reply.send(Buffer.alloc(megabytes));
    });
    await app.listen({ port: 0, host: '127.0.0.1' });
    const socket = connect((app.server.address() as { port: number }).port, '127.0.0.1');
    socket.write('GET /large HTTP/1.1\r\nHost: bench\r\nConnection: close\r\n\r\n');
    return { socket, ended: () => ended };
  }

  it('ends its line where nothing is read', async () => {
    const { socket, ended } = await asked(200);
    socket.on('error', () => undefined);
    while (!ended()) await wait(5);
    await ended();
    socket.destroy();
  });

  it('is sent to its end where something is read now and then, a part of a piece at a time', async () => {
    const { socket } = await asked(300);
    let bytes = 0;
    socket.on('data', (chunk: Buffer) => {
      bytes += chunk.length;
      if (bytes % 3 === 0 || bytes > megabytes / 4) return;
      socket.pause();
      setTimeout(() => socket.resume(), 2);
    });
    await once(socket, 'close');
    expect(bytes).toBeGreaterThan(megabytes);
  });
});
