import { describe, expect, it, vi } from 'vitest';
import { addMail, graceMs, type MailState, stopMail } from '../../server/mails/queries.ts';
import { sendDue, startSending } from '../../server/mails/send-waiting.ts';
import { mails } from '../../server/schema/tables.ts';
import { htmlMail, plainMail } from '../../views/mails/letter.tsx';
import { smtpFault, startMailServer } from '../support/mail-server.ts';
import { makeMail, makeOrder } from '../support/orders.ts';
import { type TestApp, testApp } from '../support/test-app.ts';

const log = { info: vi.fn(), error: vi.fn() };

function queue(t: TestApp, tellsOf: string, overrides: Parameters<typeof makeMail>[0] = {}) {
  const about = { tellsOf, subject: `About ${tellsOf}`, madeAt: t.clock.now() };
  addMail(t.db, makeMail({ ...about, ...overrides }));
}

const sendingOf = (t: TestApp, server: Awaited<ReturnType<typeof startMailServer>>['at']) => ({
  db: t.db,
  clock: t.clock,
  log,
  server,
  pageOf: () => 'https://bench.example.org/o/for-carla',
  enclose: async () => [{ fileName: 'care-sheets-1.pdf', bytes: Buffer.from('%PDF-1.7') }],
});

const states = (t: TestApp): [MailState, number][] =>
  t.db
    .select({ state: mails.state, tries: mails.tries })
    .from(mails)
    .all()
    .map(({ state, tries }) => [state, tries]);

describe('mails that wait', () => {
  it('are sent in order, once, after a minute in which the step can be taken back', async () => {
    const t = await testApp();
    const { at, received } = await startMailServer();
    const page = { kind: 'page', text: 'Your page' } as const;
    const text = { subject: 'About order 1', parts: [page] };
    queue(t, 'order 1', { plain: plainMail(text), html: htmlMail(text, 'en') });
    queue(t, 'order 2');
    const sending = sendingOf(t, at);
    expect(await sendDue(sending)).toBe(0);
    t.clock.at += graceMs;
    expect(await sendDue(sending)).toBe(2);
    expect(await sendDue(sending)).toBe(0);
    t.clock.forward(2);
    expect(await sendDue(sending)).toBe(0);
    expect(received.map(({ raw }) => /^Subject: (.*)$/m.exec(raw)?.[1]?.trim())).toEqual([
      'About order 1',
      'About order 2',
    ]);
    const raw = received[0]?.raw ?? '';
    expect(raw).toContain('From: Test Bench <bench@example.org>');
    expect(raw).toContain('Auto-Submitted: auto-generated');
    expect(raw).toContain('filename=care-sheets-1.pdf');
    expect(raw.replaceAll('=\r\n', '').match(/https:\/\/bench\.example\.org\/o\/for-carla/g)).toHaveLength(2);
    expect(raw).toMatch(/Content-Type: text\/plain[\s\S]*Content-Type: text\/html/);
    expect(states(t)).toEqual([
      ['sent', 1],
      ['sent', 1],
    ]);
  });

  it('cannot be written twice about the same step', async () => {
    const t = await testApp();
    queue(t, 'order 1');
    expect(() => queue(t, 'order 1')).toThrow(/UNIQUE/);
  });

  it('are tried again at growing distances while the server is down, and given up in the end', async () => {
    const t = await testApp();
    const { at, close } = await startMailServer();
    await close();
    queue(t, 'order 1');
    const triedAt: number[] = [];
    const start = t.clock.at;
    for (let minute = 0; minute < 3 * 24 * 60 + 10; minute += 1) {
      if ((await sendDue(sendingOf(t, at))) > 0) triedAt.push((t.clock.at - start) / 60_000);
      t.clock.at += 60_000;
    }
    expect(triedAt.slice(0, 7)).toEqual([1, 2, 7, 22, 82, 262, 442]);
    expect(states(t)).toEqual([['too late', triedAt.length]]);
  }, 30_000);

  it('go out by themselves when the server is back', async () => {
    const t = await testApp();
    const first = await startMailServer();
    await first.close();
    queue(t, 'order 1');
    t.clock.at += graceMs;
    await sendDue(sendingOf(t, first.at));
    expect(states(t)).toEqual([['waiting', 1]]);
    const back = await startMailServer({ port: first.at.port });
    t.clock.at += 60_000;
    await sendDue(sendingOf(t, first.at));
    expect(back.received).toHaveLength(1);
    expect(states(t)).toEqual([['sent', 2]]);
  });

  it('are never sent again by themselves where it is not known whether they arrived', async () => {
    const t = await testApp();
    const { at, received } = await startMailServer({ after: 'breaks off' });
    queue(t, 'order 1');
    t.clock.at += graceMs;
    await sendDue(sendingOf(t, at));
    t.clock.forward(2);
    await sendDue(sendingOf(t, at));
    expect(received).toHaveLength(1);
    expect(states(t)).toEqual([['unsure', 1]]);
  });

  it('wait for a person where the server refuses them for good', async () => {
    const t = await testApp();
    const { at } = await startMailServer({
      onRcptTo: (_to, _session, answer) => answer(smtpFault(550, 'no such user')),
    });
    queue(t, 'order 1');
    t.clock.at += graceMs;
    await sendDue(sendingOf(t, at));
    expect(t.db.select({ state: mails.state, answer: mails.answer }).from(mails).all()).toEqual([
      { state: 'refused', answer: expect.stringContaining('550 no such user') },
    ]);
  });

  it('are not sent when they were stopped while the server was being reached', async () => {
    const t = await testApp();
    const { at, received } = await startMailServer({
      onRcptTo(_to, _session, answer) {
        stopMail(t.db, 1, t.clock.now());
        answer();
      },
    });
    queue(t, 'order 1');
    t.clock.at += graceMs;
    await sendDue(sendingOf(t, at));
    expect(received).toEqual([]);
    expect(states(t)).toEqual([['stopped', 0]]);
  });

  it('are in doubt after a stop in the middle of handing over, and only then', async () => {
    const t = await testApp();
    const { at, received, close } = await startMailServer({ onData: () => undefined });
    queue(t, 'order 1');
    queue(t, 'order 2');
    t.clock.at += graceMs;
    const never = sendDue(sendingOf(t, at));
    await vi.waitFor(() => expect(states(t)[0]).toEqual(['sending', 0]));
    // The service is killed here: another one starts over the same database.
    const again = await startMailServer();
    const stop = startSending(sendingOf(t, again.at));
    await vi.waitFor(() => expect(states(t)[1]).toEqual(['sent', 1]));
    await stop();
    expect(states(t)[0]).toEqual(['unsure', 0]);
    expect([received.length, again.received.length]).toEqual([0, 1]);
    await close();
    await never;
  });

  it('cannot carry a header or an address of somebody else', async () => {
    const t = await testApp();
    const { at, received } = await startMailServer();
    const order = makeOrder(t.db);
    queue(t, 'order 1', {
      orderId: order.id,
      toName: 'Eve\r\nBcc: everybody@example.org',
      subject: 'Hello\r\nBcc: everybody@example.org',
    });
    t.clock.at += graceMs;
    await sendDue(sendingOf(t, at));
    expect(received[0]?.to).toEqual(['carla@example.org']);
    const head = received[0]?.raw.split('\r\n\r\n', 1)[0] ?? '';
    expect(head).not.toMatch(/^Bcc:/im);
    expect(() => queue(t, 'order 2', { toAddress: 'eve@example.org\nBcc: x@example.org' })).toThrow(/CHECK/);
  });
});
