import { Readable } from 'node:stream';
import SMTPConnection, { type SMTPError } from 'nodemailer/lib/smtp-connection';
import type { MailServer } from '../plumbing/mail-server.ts';

/**
 * How one try ended. `refused` is the server's last word; `later` may be tried again, since the letter cannot have been
 * taken; `unsure` means the server had the whole letter and the answer never came.
 */
export type Delivery = { kind: 'sent' | 'refused' | 'later' | 'unsure'; answer: string };

export type Letter = { from: string; to: string; bytes: Buffer };

const timeouts = {
  connectionTimeout: 15_000,
  dnsTimeout: 10_000,
  greetingTimeout: 15_000,
  socketTimeout: 60_000,
};
const chunkBytes = 16_384;

/** Gives the letter away piece by piece and tells when that begins and when nothing is left. */
class Handing extends Readable {
  private at = 0;
  begun = false;
  whole = false;

  constructor(
    private readonly bytes: Buffer,
    private readonly onBegin: () => void,
  ) {
    super();
  }

  override _read() {
    if (!this.begun) {
      this.begun = true;
      this.onBegin();
    }
    const chunk = this.bytes.subarray(this.at, this.at + chunkBytes);
    this.at += chunk.length;
    if (chunk.length > 0) this.push(chunk);
    if (this.at < this.bytes.length) return;
    this.whole = true;
    this.push(null);
  }
}

function connectionTo(server: MailServer): SMTPConnection {
  return new SMTPConnection({
    host: server.host,
    port: server.port,
    secure: server.encryption === 'tls',
    requireTLS: server.encryption === 'starttls',
    ignoreTLS: server.encryption === 'none',
    ...(server.trust ? { tls: { ca: server.trust } } : {}),
    ...timeouts,
  });
}

/** A server says 4xx for "not now" and 5xx for "never" (RFC 5321, 4.2.1); a refused sign-in is for a person to mend. */
function endOf(error: SMTPError, handing: Handing): Delivery {
  const answer = (error.response || error.message).slice(0, 500);
  if (error.permanent && error.code !== 'EAUTH') return { kind: 'refused', answer };
  if (error.responseCode === undefined && handing.whole) return { kind: 'unsure', answer };
  return { kind: 'later', answer };
}

/**
 * Hands one letter to the mail server. `onHanding` is called in the moment in which the server has agreed to take it
 * and before its first byte leaves, so that whoever calls can write down that from now on it may have arrived.
 */
export function deliver(server: MailServer, letter: Letter, onHanding: () => void): Promise<Delivery> {
  return new Promise((resolve, reject) => {
    const connection = connectionTo(server);
    let fault: unknown = null;
    const handing = new Handing(letter.bytes, () => {
      try {
        onHanding();
      } catch (error) {
        fault = error;
        handing.destroy();
        connection.close();
        reject(error);
      }
    });
    const end = (delivery: Delivery) => {
      if (fault === null) resolve(delivery);
    };
    const failed = (error: SMTPError) => {
      end(endOf(error, handing));
      connection.close();
    };
    // After the end, a connection may still complain; a second resolve changes nothing.
    connection.on('error', failed);
    const send = () =>
      connection.send(
        { from: letter.from, to: [letter.to], size: letter.bytes.length },
        handing,
        (error, info) => {
          if (error) return failed(error);
          end({ kind: 'sent', answer: info?.response?.slice(0, 500) ?? '' });
          connection.quit();
        },
      );
    connection.connect((error) => {
      if (error) return failed(error);
      if (!server.user) return send();
      const { user, password } = server;
      connection.login({ user, pass: password }, (refused) => (refused ? failed(refused) : send()));
    });
  });
}
