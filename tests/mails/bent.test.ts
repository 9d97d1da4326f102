import { eq } from 'drizzle-orm';
import { describe, expect, it, vi } from 'vitest';
import { addMail, graceMs } from '../../server/mails/queries.ts';
import { sendDue } from '../../server/mails/send-waiting.ts';
import { business, mails } from '../../server/schema/tables.ts';
import { startMailServer } from '../support/mail-server.ts';
import { makeMail } from '../support/orders.ts';
import { rounds } from '../support/payloads.ts';
import { testApp } from '../support/test-app.ts';

const bcc = 'Bcc: thief@example.org';
/** What could end a line, a name, an encoded word or an address early. */
const bends = [
  `\r\n${bcc}`,
  `\n${bcc}`,
  `\r${bcc}`,
  `\r\n\r\n${bcc}`,
  `\r\n ${bcc}`,
  `\r\n\t${bcc}`,
  `\u0000${bcc}`,
  `\u0085${bcc}`,
  `\u2028${bcc}`,
  `\u2029${bcc}`,
  `\u000b${bcc}`,
  `\u000c${bcc}`,
  `%0d%0a${bcc}`,
  `%0A${bcc}`,
  `=0D=0A${bcc}`,
  `=?UTF-8?Q?=0D=0A${bcc.replace(': ', '=3A_')}?=`,
  `=?UTF-8?B?DQpCY2M6IHRoaWVmQGV4YW1wbGUub3Jn?=`,
  `?= \r\n${bcc}`,
  `, thief@example.org`,
  `; thief@example.org`,
  `> <thief@example.org>`,
  `" <thief@example.org>, "`,
  `(\r\n${bcc}`,
  `\\\r\n${bcc}`,
  `\r\n.\r\nRCPT TO:<thief@example.org>\r\n`,
  `\u560d\u560a${bcc}`,
  `\u202e${bcc}`,
  `\ufeff${bcc}`,
  `é\u0301ß 虫 🐛\r\n${bcc}`,
  `${'x'.repeat(2_000)}\r\n${bcc}`,
];

/** By turns a third of them at each place, all with PAYLOADS=all. */
const places = ['name', 'address', 'subject', 'file', 'ours'] as const;

const log = { info: vi.fn(), error: vi.fn() };

/** The names of all fields of a letter's head and of its parts (RFC 5322, 2.2), what continues a line joined to it. */
const fieldsOf = (raw: string) => {
  const [head = ''] = raw.split('\r\n\r\n');
  return head
    .replace(/\r\n[ \t]+/g, ' ')
    .split('\r\n')
    .map((line) => line.slice(0, line.indexOf(':')).toLowerCase())
    .sort();
};
const partFieldsOf = (raw: string) =>
  raw
    .split('\r\n')
    .filter((line) => /^(bcc|cc|to|rcpt)\b/i.test(line))
    .map((line) => line.split(':')[0]);

const bytesOf = (how: string, text: string) =>
  how.toUpperCase() === 'B'
    ? Buffer.from(text, 'base64')
    : Buffer.from(
        text
          .replace(/_/g, ' ')
          .replace(/=([\dA-F]{2})/g, (_, hex: string) => String.fromCharCode(parseInt(hex, 16))),
        'latin1',
      );

/** Encoded words as RFC 2047 has them; white space between two of them is not shown. */
const decoded = (text: string) =>
  text
    .replace(/\?=\s+=\?/g, '?==?')
    .replace(/(?:=\?utf-8\?[qb]\?[^?]*\?=)+/gi, (words) =>
      Buffer.concat(
        [...words.matchAll(/=\?utf-8\?([qb])\?([^?]*)\?=/gi)].map(([, how = '', coded = '']) =>
          bytesOf(how, coded),
        ),
      ).toString('utf8'),
    );

const fieldOf = (raw: string, name: string) =>
  new RegExp(`^${name}: (.*)$`, 'm').exec(
    (raw.split('\r\n\r\n')[0] ?? '').replace(/\r\n(?=[ \t])/g, ''),
  )?.[1] ?? '';

// OWASP ASVS 5.0, 1.3.11 and 5.4.2; RFC 5322, 2.2.
describe('a letter', () => {
  it('has no field and no reader more than it should, whatever names, addresses, subjects and files are called', async () => {
    const t = await testApp();
    const { at, received } = await startMailServer();
    let fileName = 'care.pdf';
    const sending = {
      db: t.db,
      clock: t.clock,
      log,
      server: at,
      pageOf: () => 'https://bench.example.org/o/for-carla',
      enclose: async () => [{ fileName, bytes: Buffer.from('%PDF-1.7') }],
    };
    const own = t.db.select().from(business).get()?.name ?? '';
    /** One letter with something bent; null where nothing was sent at all. */
    const sent = async (bent: {
      name?: string;
      address?: string;
      subject?: string;
      file?: string;
      ours?: string;
    }) => {
      received.length = 0;
      fileName = bent.file ?? 'care.pdf';
      t.db
        .update(business)
        .set({ name: (bent.ours ?? own).slice(-120) })
        .run();
      t.db.delete(mails).run();
      try {
        addMail(
          t.db,
          makeMail({
            toName: bent.name ?? 'Carla Customer',
            toAddress: bent.address ?? 'carla@example.org',
            subject: bent.subject ?? 'About your order',
            withCareSheets: true,
            madeAt: t.clock.now(),
          }),
        );
      } catch (error) {
        // The database keeps no such line.
        if (String(error).includes('CHECK constraint failed')) return 'refused';
        throw error;
      }
      t.clock.at += graceMs;
      await sendDue(sending);
      return received[0] ?? null;
    };
    const straight = await sent({});
    if (!straight || straight === 'refused') throw new Error('a plain letter did not go');
    const usual = fieldsOf(straight.raw);
    const parts = partFieldsOf(straight.raw);
    expect(usual).toContain('subject');
    const wrong: string[] = [];
    let arrived = 0;
    for (const [index, bend] of bends.entries())
      for (const [turn, place] of places.entries()) {
        if ((index + turn) % rounds(3, 1) !== 0) continue;
        const text = place === 'address' ? `carla@example.org${bend}` : `Carla ${bend}`;
        const letter = await sent({ [place]: text });
        const what = `${place} ${JSON.stringify(bend.slice(-60))}`;
        if (letter === 'refused') {
          if (!/[\r\n]|x{200}/.test(text)) wrong.push(`${what}: was refused`);
          continue;
        }
        if (!letter) {
          // Only an address may keep a letter from going; it waits or has failed where people see it.
          if (place !== 'address') wrong.push(`${what}: did not go`);
          continue;
        }
        arrived += 1;
        const head = fieldsOf(letter.raw);
        if (head.join() !== usual.join()) wrong.push(`${what}: ${head.join()}`);
        if (partFieldsOf(letter.raw).join() !== parts.join()) wrong.push(`${what}: in its parts`);
        if (letter.to.length !== 1) wrong.push(`${what}: went to ${letter.to.join(' and ')}`);
        if (place !== 'address' && letter.to[0] !== 'carla@example.org')
          wrong.push(`${what}: to ${letter.to[0]}`);
        if (place === 'subject' && !decoded(fieldOf(letter.raw, 'Subject')).startsWith('Carla'))
          wrong.push(`${what}: is ${fieldOf(letter.raw, 'Subject')}`);
      }
    expect(wrong).toEqual([]);
    expect(arrived).toBeGreaterThan(17);
  });

  it('shows names in all scripts as they were written', async () => {
    const t = await testApp();
    const { at, received } = await startMailServer();
    const names = ['Zoë Größe', 'Нина', '小さな虫', 'Bug 🐛 & Sons', 'O’Hara', 'é\u0301', 'a=?b?=c'];
    for (const name of names) {
      addMail(t.db, makeMail({ toName: name, subject: name, tellsOf: name, madeAt: t.clock.now() }));
    }
    t.clock.at += graceMs;
    await sendDue({ db: t.db, clock: t.clock, log, server: at, pageOf: () => '', enclose: async () => [] });
    expect(received.map(({ raw }) => decoded(fieldOf(raw, 'Subject')))).toEqual(names);
    expect(
      received.map(({ raw }) =>
        decoded(fieldOf(raw, 'To'))
          .replace(/ <.*>$/, '')
          .replace(/^"|"$/g, ''),
      ),
    ).toEqual(names);
    expect(t.db.select().from(mails).where(eq(mails.state, 'sent')).all()).toHaveLength(names.length);
  });
});
