import { attribute, elementsOf } from '../support/page-parts.ts';
import type { Answer, Wanderer } from './wanderer.ts';

export type Walked = { pages: number; files: number; links: number; elsewhere: Set<string>; wrong: string[] };

/** Of one kind of address (numbers and codes apart) so many are asked for. */
const mostOfAKind = 3;
const kindOf = ({ pathname, searchParams }: URL) =>
  `${pathname.replace(/\/[^/]*\d[^/]*/g, '/:')}?${[...searchParams.keys()].sort().join('&')}`;

const followed = ['href', 'src', 'hx-get', 'data-live', 'action', 'hx-post'];

/** Every address that a page hands to a browser, whole, with whether it is for asking and not for sending. */
function addressesOn({ text, url }: Answer): { to: URL; isAsked: boolean }[] {
  return elementsOf(text).flatMap((element) =>
    followed.flatMap((name) => {
      const value = attribute(element, name);
      if (value === undefined || value.startsWith('#') || !URL.canParse(value, url)) return [];
      const isForm = name === 'action' || name === 'hx-post';
      return [{ to: new URL(value, url), isAsked: !isForm && name !== 'data-live' }];
    }),
  );
}

function addressesInFile({ text, body, url, headers }: Answer): URL[] {
  const type = String(headers['content-type']);
  const found = type.startsWith('text/css')
    ? [...text.matchAll(/url\(["']?([^"')]+)/g)]
    : type.includes('pdf')
      ? [...body.toString('latin1').matchAll(/\/URI \(([^)]*)\)/g)]
      : type.startsWith('text/calendar')
        ? [...text.replaceAll('\r\n ', '').matchAll(/^URL[^:]*:(.*?)\r?$/gm)]
        : [];
  return found.flatMap(([, one = '']) => (URL.canParse(one, url) ? [new URL(one, url)] : []));
}

/** Headers that every answer of the service bears, whoever passes it on. */
function missingHeaders({ headers, url }: Answer): string[] {
  const wanted = ['content-security-policy', 'x-content-type-options', 'referrer-policy', 'cache-control'];
  if (url.protocol === 'https:') wanted.push('strict-transport-security');
  return wanted.filter((name) => headers[name] === undefined);
}

/** What asks to come back in a moment is asked again, as people do: papers and proposals take the processor. */
async function patientlyAsk(who: Wanderer, url: URL): Promise<Answer> {
  let answer = await who.ask(url);
  for (let turn = 0; turn < 8 && answer.status === 503 && answer.headers['retry-after']; turn += 1) {
    await new Promise((done) => setTimeout(done, 2_000));
    answer = await who.ask(url);
  }
  return answer;
}

/** Goes everywhere that links lead, from one page on, and tells what leads beside the public address. */
export async function crawl(who: Wanderer, publicAddress: string): Promise<Walked> {
  const { origin, hostname } = new URL(publicAddress);
  const walked: Walked = { pages: 0, files: 0, links: 0, elsewhere: new Set(), wrong: [] };
  const open = [new URL(`${publicAddress}/`)];
  const seen = new Set<string>();
  const kinds = new Map<string, number>();
  const judge = (to: URL, from: URL): boolean => {
    walked.links += 1;
    if (to.origin === origin && (to.href === publicAddress || to.href.startsWith(`${publicAddress}/`)))
      return true;
    const isOurs = to.hostname === hostname || /^(127\.|localhost)/.test(to.hostname);
    if (isOurs) walked.wrong.push(`${from.pathname} leads to ${to.href}`);
    else if (/^https?:$/.test(to.protocol)) walked.elsewhere.add(to.hostname);
    return false;
  };
  const add = (to: URL) => {
    to.hash = '';
    const count = kinds.get(kindOf(to)) ?? 0;
    if (seen.has(to.href) || count >= mostOfAKind) return;
    seen.add(to.href);
    kinds.set(kindOf(to), count + 1);
    open.push(to);
  };
  for (let url = open.shift(); url; url = open.shift()) {
    const answer = await patientlyAsk(who, url);
    const { location } = answer.headers;
    if (answer.status >= 400) walked.wrong.push(`${url.pathname}${url.search} answered ${answer.status}`);
    for (const name of missingHeaders(answer)) walked.wrong.push(`${url.pathname} has no ${name}`);
    if (typeof location === 'string') {
      const to = new URL(location, url);
      if (judge(to, url)) add(to);
      continue;
    }
    const isPage = String(answer.headers['content-type']).startsWith('text/html');
    walked[isPage ? 'pages' : 'files'] += 1;
    const found = isPage ? addressesOn(answer) : addressesInFile(answer).map((to) => ({ to, isAsked: true }));
    for (const { to, isAsked } of found) if (judge(to, url) && isAsked) add(to);
  }
  return walked;
}
