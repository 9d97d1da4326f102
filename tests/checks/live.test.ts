import { describe, expect, it } from 'vitest';
import { refreshEstimate } from '../../server/counts/queries-estimate.ts';
import { makeSessions } from '../../server/plumbing/sessions.ts';
import { makeCulture, makeSpecies } from '../support/stock.ts';
import { cast, type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

function kept({ db }: TestApp, code: string) {
  const made = makeCulture(db, { code, speciesId: makeSpecies(db, { sellable: false }).id });
  refreshEstimate(db, made.id, testToday, testNow);
  return made;
}

/** Somebody whose browser listens, over a real socket. */
async function listener(app: TestApp) {
  if (!app.app.server.listening) await app.app.listen({ host: '127.0.0.1', port: 0 });
  const { port } = app.app.server.address() as { port: number };
  const set = await makeSessions(app.db, app.clock).begin(cast.helper.id, 'phone');
  const [cookie = ''] = set.split(';');
  const stop = new AbortController();
  const open = () =>
    fetch(`http://127.0.0.1:${port}/round/live`, {
      headers: { cookie, accept: 'text/event-stream' },
      signal: stop.signal,
    });
  return { open, stop };
}

/** Reads until so many lines with data have come. */
async function dataLines(response: Response, count: number): Promise<string[]> {
  const lines: string[] = [];
  let text = '';
  const reader = response.body!.pipeThrough(new TextDecoderStream()).getReader();
  while (lines.length < count) {
    const { value, done } = await reader.read();
    if (done) break;
    text += value;
    lines.splice(0, lines.length, ...text.split('\n').filter((line) => line.startsWith('data: ')));
  }
  return lines;
}

describe('the round, live', () => {
  it('tells whoever has it open what others do: looks, several at once, corrections, putting off', async () => {
    const app = await testApp();
    for (const code of ['L-1', 'L-2', 'L-3']) kept(app, code);
    const { open, stop } = await listener(app);
    const response = await open();
    expect([response.status, response.headers.get('content-type')]).toEqual([
      200,
      'text/event-stream; charset=utf-8',
    ]);
    await app.owner.post('/cultures/L-1/all-well');
    await app.owner.post('/round/all-well', { codes: ['L-2', 'L-3'] });
    const ids = /name="ids" value="([^"]+)"/.exec((await app.owner.get('/round')).text)?.[1] ?? '';
    await app.owner.post('/round/undo', { ids });
    await app.owner.post('/cultures/L-2/put-off', { what: 'check', days: '1', reason: 'moulting' });
    expect(await dataLines(response, 4)).toEqual([
      'data: ["L-1"]',
      'data: ["L-2","L-3"]',
      'data: ["L-2","L-3"]',
      'data: ["L-2"]',
    ]);
    stop.abort();
  });

  it('is for whoever is signed in, on a few screens each, and nothing for who only looks', async () => {
    const app = await testApp();
    const looked = await app.helper.get('/round/live');
    expect([looked.status, looked.headers.location]).toEqual([303, '/round']);
    expect((await app.outsider.get('/round/live', { accept: 'text/event-stream' })).status).toBe(303);
    const { open, stop } = await listener(app);
    const answers = [];
    for (let screen = 0; screen < 5; screen += 1) answers.push((await open()).status);
    expect(answers).toEqual([200, 200, 200, 200, 429]);
    stop.abort();
    // Screens that were closed make room for others.
    const later = await listener(app);
    await expect.poll(async () => (await later.open()).status).toBe(200);
    later.stop.abort();
  });

  it('ends when the service stops', async () => {
    const app = await testApp();
    const { open } = await listener(app);
    const response = await open();
    const [text] = await Promise.all([response.text(), app.app.close()]);
    expect(text).toContain('retry: 3000');
  });

  it('gives the rows anew with the progress, and takes off what is no longer due', async () => {
    const app = await testApp();
    for (const code of ['L-1', 'L-2', 'L-3']) kept(app, code);
    await app.owner.post('/cultures/L-1/all-well');
    await app.owner.post('/cultures/L-2/put-off', { what: 'check', days: '1', reason: 'moulting' });
    const ask = (codes: string) => app.helper.get(`/round/rows?codes=${encodeURIComponent(codes)}`);
    const { text } = await ask('["L-1","L-2"]');
    expect(text).toMatch(/<li id="round-L_45_1"[^>]*hx-swap-oob="true"/);
    expect(text).toContain('Looked at today');
    expect(text).toContain('<li id="round-L_45_2" hx-swap-oob="delete">');
    expect(text).toContain('1 of 2 cultures done');
    expect(text).not.toContain('L-3');
    for (const odd of ['', 'x', '{}', '[1]', '[""]', `["${'a'.repeat(300)}"]`])
      expect(await ask(odd)).toMatchObject({ status: 200, text: '' });
    expect((await ask('["<b>"]')).text).not.toContain('<b>');
  });
});
