import { SMTPServer, type SMTPServerOptions } from 'smtp-server';
import type { MailServer } from '../../server/plumbing/mail-server.ts';
import { closeAtEnd } from './leaving.ts';

export type Received = { from: string; to: string[]; raw: string };
type Data = NonNullable<SMTPServerOptions['onData']>;
type Stream = Parameters<Data>[0];

const readAll = async (stream: Stream) => {
  const chunks: Buffer[] = [];
  for await (const chunk of stream) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks).toString('utf8');
};

/**
 * A real mail server on loopback that keeps what it took. `after` is what it does once it has the whole letter: its
 * answer, or to break the connection without one.
 */
export async function startMailServer({
  after = 'takes it',
  port = 0,
  ...options
}: { after?: 'takes it' | 'breaks off' | Error; port?: number } & SMTPServerOptions = {}) {
  const received: Received[] = [];
  const server = new SMTPServer({
    disabledCommands: ['STARTTLS', 'AUTH'],
    logger: false,
    closeTimeout: 100,
    onData(stream, session, answer) {
      const read = readAll(stream).then((raw) => {
        const { mailFrom, rcptTo } = session.envelope;
        if (!(after instanceof Error))
          received.push({
            from: mailFrom ? mailFrom.address : '',
            to: rcptTo.map(({ address }) => address),
            raw,
          });
        if (after === 'breaks off') for (const one of server.connections) one._socket.destroy();
        else answer(after instanceof Error ? after : null);
      });
      // A client that hangs up half-way has sent no letter.
      read.catch(() => undefined);
    },
    ...options,
  });
  server.on('error', () => undefined);
  await new Promise<void>((done) => server.listen(port, '127.0.0.1', done));
  closeAtEnd(() => new Promise<void>((done) => server.close(done)));
  const address = server.server.address();
  const at: MailServer = {
    host: '127.0.0.1',
    port: typeof address === 'object' && address ? address.port : 0,
    encryption: 'none',
    user: '',
    password: '',
    trust: null,
    from: 'bench@example.org',
  };
  return { received, at, close: () => new Promise<void>((done) => server.close(done)) };
}

/** An answer of the mail server with its code. */
export const smtpFault = (responseCode: number, message: string) =>
  Object.assign(new Error(message), { responseCode });
