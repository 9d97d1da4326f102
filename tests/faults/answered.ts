import { Agent, request } from 'node:http';

/** How a request ended: answered wholly; not taken, since nobody listened; cut off in an answer; or let fall unanswered. */
export type Ending = 'whole' | 'refused' | 'cut' | 'dropped';
export type Ended = { ending: Ending; status: number; text: string; cookies: string[]; why: string };

type Asked = { path: string; cookie: string; form?: URLSearchParams };

/**
 * Somebody who keeps a line open or takes a new one for each request, and is told what became of it: `fetch` says of all
 * that goes wrong that it failed.
 */
export class Line {
  private readonly agent: Agent;
  constructor(
    readonly address: string,
    keepAlive: boolean,
  ) {
    this.agent = new Agent({ keepAlive, maxSockets: 1 });
  }

  leave() {
    this.agent.destroy();
  }

  ask({ path, cookie, form }: Asked): Promise<Ended> {
    return new Promise((resolve) => {
      const text: Buffer[] = [];
      const body = form?.toString();
      const headers = {
        cookie,
        ...(body && { 'content-type': 'application/x-www-form-urlencoded', 'content-length': body.length }),
      };
      const method = form ? 'POST' : 'GET';
      let status = 0;
      let cookies: string[] = [];
      const end = (ending: Ending, why = '') =>
        resolve({ ending, status, cookies, why, text: Buffer.concat(text).toString() });
      const asked = request(this.address + path, { agent: this.agent, method, headers }, (answer) => {
        status = answer.statusCode ?? 0;
        cookies = (answer.headers['set-cookie'] ?? []).map((line) => line.split(';')[0] ?? '');
        answer.on('data', (piece: Buffer) => text.push(piece));
        answer.once('close', () => end(answer.complete ? 'whole' : 'cut', 'closed in the answer'));
        answer.on('error', () => undefined);
      });
      asked.on('error', (error: NodeJS.ErrnoException) => {
        const kind = asked.reusedSocket ? 'on a kept line' : 'on a new line';
        if (status > 0) end('cut', error.message);
        else end(error.code === 'ECONNREFUSED' ? 'refused' : 'dropped', `${error.code} ${kind}`);
      });
      asked.end(body);
    });
  }
}
