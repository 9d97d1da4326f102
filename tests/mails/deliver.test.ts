import { createServer, type Socket } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { deliver } from '../../server/mails/deliver.ts';
import { smtpFault, startMailServer } from '../support/mail-server.ts';

const letter = {
  from: 'bench@example.org',
  to: 'carla@example.org',
  bytes: Buffer.from('Subject: Hello\r\n\r\n.a line with a dot\r\nDear Carla\r\n'),
};
const long = {
  ...letter,
  bytes: Buffer.from(`Subject: Long\r\n\r\n${'moss under bark\r\n'.repeat(40_000)}`),
};

const toClose: (() => void)[] = [];
afterEach(() => {
  for (const close of toClose.splice(0)) close();
});

/** Speaks as a mail server does up to `stage`, and then hangs up. */
async function hangsUpAt(stage: string) {
  const sockets = new Set<Socket>();
  const server = createServer((socket) => {
    sockets.add(socket);
    socket.on('error', () => undefined);
    socket.write('220 hello\r\n');
    socket.on('data', (chunk) => {
      const said = chunk.toString();
      if (said.startsWith(stage)) return socket.destroy();
      if (said.startsWith('DATA')) return socket.write('354 go on\r\n');
      socket.write('250 fine\r\n');
    });
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  toClose.push(() => {
    for (const socket of sockets) socket.destroy();
    server.close();
  });
  const address = server.address();
  return typeof address === 'object' && address ? address.port : 0;
}

describe('a letter that is handed to a mail server', () => {
  it('arrives once and whole, and the server has its say', async () => {
    const { at, received } = await startMailServer();
    const order: string[] = [];
    const ended = await deliver(at, letter, () => order.push(`handed over, ${received.length} received`));
    expect(ended.kind).toBe('sent');
    expect(order).toEqual(['handed over, 0 received']);
    expect(received).toEqual([{ from: letter.from, to: [letter.to], raw: letter.bytes.toString() }]);
  });

  it('arrives whole when it is long', async () => {
    const { at, received } = await startMailServer();
    expect((await deliver(at, long, () => undefined)).kind).toBe('sent');
    expect(received[0]?.raw).toBe(long.bytes.toString());
  });

  // RFC 5321, 4.2.1: 4yz is a transient, 5yz a permanent negative completion.
  it.each([
    ['not now', smtpFault(451, 'try later'), 'later'],
    ['never', smtpFault(550, 'no such user'), 'refused'],
  ] as const)('where the server says %s after the letter', async (_, after, kind) => {
    const { at } = await startMailServer({ after });
    const ended = await deliver(at, letter, () => undefined);
    expect(ended).toEqual({ kind, answer: expect.stringContaining(after.message) });
  });

  it.each([
    ['not now', smtpFault(450, 'mailbox busy'), 'later'],
    ['never', smtpFault(553, 'no such name'), 'refused'],
  ] as const)('is not handed over where the server says %s to the address', async (_, fault, kind) => {
    const { at, received } = await startMailServer({ onRcptTo: (_to, _session, answer) => answer(fault) });
    let handed = false;
    const ended = await deliver(at, letter, () => {
      handed = true;
    });
    expect(ended).toEqual({ kind, answer: expect.stringContaining(fault.message) });
    expect({ handed, received }).toEqual({ handed: false, received: [] });
  });

  it('is in doubt where the server took it all and never answered', async () => {
    const { at, received } = await startMailServer({ after: 'breaks off' });
    expect((await deliver(at, letter, () => undefined)).kind).toBe('unsure');
    expect(received).toHaveLength(1);
  });

  it.each(['EHLO', 'MAIL', 'RCPT', 'DATA'])(
    'may be tried again where the line breaks at %s',
    async (stage) => {
      const { at } = await startMailServer();
      const port = await hangsUpAt(stage);
      let handed = false;
      const ended = await deliver({ ...at, port }, letter, () => {
        handed = true;
      });
      expect({ kind: ended.kind, handed }).toEqual({ kind: 'later', handed: false });
    },
  );

  it('may be tried again where nobody listens', async () => {
    const { at, close } = await startMailServer();
    await close();
    expect((await deliver(at, letter, () => undefined)).kind).toBe('later');
  });

  it('is not handed over where the moment of it cannot be written down', async () => {
    const { at, received } = await startMailServer();
    const cannot = deliver(at, letter, () => {
      throw new Error('the disk is full');
    });
    await expect(cannot).rejects.toThrow('the disk is full');
    expect(received).toEqual([]);
  });

  it('gives neither the password nor the letter to a server whose certificate nobody vouches for', async () => {
    const said: string[] = [];
    const { at, received } = await startMailServer({
      disabledCommands: [],
      onAuth(auth, _session, answer) {
        said.push(auth.username ?? '');
        answer(null, { user: 'bench' });
      },
    });
    const server = { ...at, encryption: 'starttls', user: 'bench', password: 'moss' } as const;
    expect((await deliver(server, letter, () => undefined)).kind).toBe('later');
    expect({ said, received }).toEqual({ said: [], received: [] });
  });

  it('waits for a person, and is tried again, where the sign-in is refused', async () => {
    const { at, received } = await startMailServer({
      disabledCommands: ['STARTTLS'],
      allowInsecureAuth: true,
      onAuth: (_auth, _session, answer) => answer(smtpFault(535, 'wrong password')),
    });
    const ended = await deliver({ ...at, user: 'bench', password: 'wrong' }, letter, () => undefined);
    expect(ended.kind).toBe('later');
    expect(received).toEqual([]);
  });
});
