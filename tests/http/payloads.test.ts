import { describe, expect, it } from 'vitest';
import { contentsOf } from '../support/contents.ts';
import { knownNames } from '../support/known-names.ts';
import { tracesIn } from '../support/page-parts.ts';
import { addresses, keys, markup, nth, payloads, rounds } from '../support/payloads.ts';
import { furnishedBench, gets, posts, type Walk } from '../support/walk.ts';

// OWASP ASVS 5.0, 1.2, 1.3, 3.2.2, 5.3.2 and 15.3: what comes from outside is data, wherever it comes in.

type Answered = { status: number; headers: Record<string, string>; text?: string };

const isPage = ({ headers }: Answered) => headers['content-type']?.startsWith('text/html') ?? false;

/** What an answer must not be, whatever was asked. */
function faultsOf(answer: Answered): string[] {
  const faults: string[] = [];
  const { status, headers } = answer;
  if (status >= 500) faults.push(String(status));
  const to = headers.location ?? headers['hx-redirect'];
  if (to !== undefined && !/^\/(?![\\/\s]|%5c|%2f|%09)/i.test(to)) faults.push(`leads to ${to}`);
  for (const name of Object.keys(headers)) if (/injected|bcc/i.test(name)) faults.push(name);
  if (isPage(answer)) faults.push(...tracesIn(answer.text ?? ''));
  if (/root:.:0:0|\[extensions\]|argon2id/.test(answer.text ?? '')) faults.push('a file or a hash');
  return faults;
}

/** Everything is asked in one bench: what a request writes is taken back before the next. */
async function asked(t: Walk, ask: () => Promise<Answered>): Promise<Answered> {
  t.sqlite.exec('SAVEPOINT asked');
  try {
    return await ask();
  } finally {
    t.sqlite.exec('ROLLBACK TO asked; RELEASE asked');
  }
}

/** As it can be put into an address: half a character cannot. */
const wellFormed = (text: string) => text.replace(/\p{Surrogate}/gu, '\ufffd');
const isPaper = (path: string) => /\.pdf$/.test(path);
const shown = (text: string) => JSON.stringify(text.slice(0, 60));

describe('what the tests look for', () => {
  it('is found where a text is put into a page as it is', () => {
    const around = [
      (text: string) => `<p>${text}</p>`,
      (text: string) => `<p title="${text}">x</p>`,
      (text: string) => `<p title='${text}'>x</p>`,
      (text: string) => `<textarea>${text}</textarea>`,
      (text: string) => `<a href="${text}">x</a>`,
      (text: string) => `<!doctype html><title>${text}</title>`,
    ];
    const missed = (text: string) => around.every((put) => tracesIn(put(text)).length === 0);
    const inert = [...markup, ...addresses.slice(0, 10)].filter(missed);
    // These need a browser of long ago, or a form around them, to be more than text.
    expect(inert.length).toBeLessThanOrEqual(9);
    expect(inert.join(' ')).not.toMatch(/xss-mark>$|<script|^javascript/);
    expect(tracesIn('<p title="&lt;script&gt;">&lt;xss-mark&gt;</p><a href="/x?next=//y">x</a>')).toEqual([]);
  });
});

describe('an address', () => {
  it('takes anything in the place of its names and numbers, and answers only from what is there', async () => {
    const t = await furnishedBench();
    const before = contentsOf(t.sqlite);
    const wrong: string[] = [];
    const open = gets(t).filter(({ path }) => /[:*]/.test(path));
    for (const [place, { path, access }] of open.entries()) {
      const all = rounds(2, payloads.length);
      for (let round = 0; round < all; round += 1) {
        const payload = nth(payloads, place * all + round);
        const sent = wellFormed(payload) === payload ? encodeURIComponent(payload) : '%ED%A0%80';
        const asking = path.replace(/:\w+|\*/g, round % 2 ? sent : encodeURIComponent(sent));
        for (const visitor of access === 'anyone' ? [t.owner, t.outsider] : [t.owner]) {
          const answer = await visitor.get(asking);
          for (const fault of faultsOf(answer)) wrong.push(`${path} with ${shown(payload)}: ${fault}`);
        }
      }
    }
    expect(wrong).toEqual([]);
    expect(contentsOf(t.sqlite)).toEqual(before);
  });

  it('takes anything as its parameters, also twice, and changes nothing', async () => {
    const t = await furnishedBench();
    const { query } = await knownNames(t);
    const before = contentsOf(t.sqlite);
    const wrong: string[] = [];
    const names = [...query, ...keys];
    expect(query.length).toBeGreaterThan(40);
    for (const [place, address] of gets(t).entries()) {
      const all = rounds(1, payloads.length);
      for (let round = 0; round < all; round += 1) {
        const pairs = names.map((name, at) => [name, wellFormed(nth(payloads, at + place + round * 37))]);
        const parameters = new URLSearchParams(pairs);
        if (round % 2) for (const name of names) parameters.append(name, nth(payloads, round + place));
        // An address has 16 kB at most; longer ones are asked for elsewhere.
        const asking = `${t.at(address)}?${parameters.toString().slice(0, 15_000).replace(/%.?$/, '')}`;
        const answer = await t.owner.get(asking);
        for (const fault of faultsOf(answer)) wrong.push(`${address.path}, round ${round}: ${fault}`);
      }
    }
    expect(wrong).toEqual([]);
    expect(contentsOf(t.sqlite)).toEqual(before);
    expect(Object.keys(Object.prototype)).toEqual([]);
  });

  it('takes anything as one parameter of those its pages use', async () => {
    const t = await furnishedBench();
    const { query } = await knownNames(t);
    const before = contentsOf(t.sqlite);
    const wrong: string[] = [];
    const pages = gets(t).filter(({ path }) => !isPaper(path) && !path.startsWith('/static'));
    for (const [place, address] of pages.entries()) {
      for (let round = 0; round < rounds(1, query.length); round += 1) {
        const name = nth(query, place * 3 + round);
        const payload = wellFormed(nth(payloads, place * 7 + round * 31));
        const answer = await t.owner.get(`${t.at(address)}?${new URLSearchParams({ [name]: payload })}`);
        for (const fault of faultsOf(answer))
          wrong.push(`${address.path}?${name}=${shown(payload)}: ${fault}`);
      }
    }
    expect(wrong).toEqual([]);
    expect(contentsOf(t.sqlite)).toEqual(before);
  });
});

describe('a form', () => {
  it('takes anything in any of its fields: what is refused leaves no trace, what is taken is only text', async () => {
    const t = await furnishedBench();
    const { forms, fields } = await knownNames(t);
    const wrong: string[] = [];
    const before = contentsOf(t.sqlite);
    for (const [place, address] of posts(t).entries()) {
      const known = forms.get(address.path) ?? [];
      const usual = known[0]?.fields ?? {};
      const names = Object.keys(usual);
      for (let round = 0; round < rounds(1, payloads.length); round += 1) {
        const sent: Record<string, string | string[]> = { ...usual };
        const whole = round % 3 === 0;
        // By turns every field that anybody knows, all of the form, or one of it with the others as they stood.
        const bent = whole
          ? fields
          : round % 3 === 1 || names.length === 0
            ? names
            : [nth(names, place + round)];
        for (const [at, name] of bent.entries())
          sent[name] = wellFormed(nth(payloads, at * 3 + place + round * 41)).slice(0, 400);
        for (const key of keys) sent[key] = ['polluted', 'twice'];
        const answer = await asked(t, async () => {
          const got = await t.owner.post(t.at(address), sent);
          if (
            got.status >= 400 &&
            JSON.stringify(quiet(contentsOf(t.sqlite), got.status)) !==
              JSON.stringify(quiet(before, got.status))
          )
            wrong.push(`${address.path}, round ${round}: was refused (${got.status}) and wrote`);
          return got;
        });
        for (const fault of faultsOf(answer))
          wrong.push(
            `${address.path}, round ${round} (${bent.length === 1 ? bent[0] : bent.length}): ${fault}`,
          );
      }
    }
    expect(wrong).toEqual([]);
    expect(Object.keys(Object.prototype)).toEqual([]);
  });

  it('leads nowhere else after it was taken, whatever it names to go back to', async () => {
    const t = await furnishedBench();
    const { forms, fields, query } = await knownNames(t);
    const ways = [...new Set([...fields, ...query])].filter((name) =>
      /^(next|back|to|from|return|goto|url|redirect|after|then|at|place)/i.test(name),
    );
    const wrong: string[] = [];
    for (const [place, address] of posts(t).entries()) {
      const usual = forms.get(address.path)?.[0]?.fields ?? {};
      for (let round = 0; round < rounds(1, addresses.length); round += 1) {
        const away = nth(addresses, place + round * 5);
        const answer = await asked(t, () =>
          t.owner.post(
            `${t.at(address)}?${new URLSearchParams(ways.map((name) => [name, away]))}`,
            { ...usual, ...Object.fromEntries(ways.map((name) => [name, away])) },
            {
              part: round % 2 === 1,
              headers: { Referer: `https://example.org/${away.trim()}`.replace(/[^\x21-\x7e]/g, '') },
            },
          ),
        );
        for (const fault of faultsOf(answer)) wrong.push(`${address.path} with ${shown(away)}: ${fault}`);
      }
    }
    expect(wrong).toEqual([]);
  });
});

/**
 * Tries are counted also of what is refused: that is what they are for. Of a form that somebody overtook it is kept under its
 * key that it was, so that the same form, sent twice, hears the same twice.
 */
function quiet({ sign_in_tries: _tries, form_keys, ...rest }: Record<string, string>, status: number) {
  return status === 409 ? rest : { ...rest, form_keys };
}

describe('what a request says about itself', () => {
  const told = [
    'User-Agent',
    'Accept-Language',
    'Referer',
    'X-Forwarded-For',
    'X-Forwarded-Host',
    'HX-Request',
    'HX-Current-URL',
    'HX-Target',
    'By-Script',
    'Written-By',
    'For-Later',
    'Accept',
    'Range',
    'If-None-Match',
    'If-Modified-Since',
    'Cookie',
    'Authorization',
  ] as const;

  it('is data too, on every page', async () => {
    const t = await furnishedBench();
    const before = contentsOf(t.sqlite);
    const wrong: string[] = [];
    const printable = payloads.filter((payload) => /^[\x20-\x7e]+$/.test(payload) && payload.length < 200);
    for (const [place, address] of gets(t)
      .filter(({ path }) => !isPaper(path))
      .entries()) {
      for (let round = 0; round < rounds(1, printable.length); round += 1) {
        const headers = Object.fromEntries(
          told
            .filter((name) => name !== 'Accept' && (name !== 'Cookie' || round % 2))
            .map((name, at) => [name, nth(printable, at + place * 3 + round * 17)]),
        );
        const answer = await t.owner.get(t.at(address), headers);
        for (const fault of faultsOf(answer)) wrong.push(`${address.path}, round ${round}: ${fault}`);
      }
    }
    expect(wrong).toEqual([]);
    expect(contentsOf(t.sqlite)).toEqual(before);
  });

  it('names no host that a link is made of', async () => {
    const t = await furnishedBench();
    const wrong: string[] = [];
    for (const address of gets(t).filter(({ path }) => !isPaper(path))) {
      const forged = {
        Host: 'forged.example.org',
        'X-Forwarded-Host': 'forged.example.org',
        Forwarded: 'host=forged.example.org',
      };
      const { headers, text } = await t.owner.get(t.at(address), forged);
      if (`${JSON.stringify(headers)}${text}`.includes('forged.example.org')) wrong.push(address.path);
    }
    expect(wrong).toEqual([]);
  });
});
