import { describe, expect, it } from 'vitest';
import { insertLine } from '../../server/lines/queries.ts';
import { kinshipOf } from '../../server/lines/queries-kinship.ts';
import { type TestApp, testApp, testToday } from '../support/test-app.ts';
import { bench, smallStory } from './pages-story.ts';

async function withStory(overrides: Parameters<typeof smallStory>[1] = {}) {
  const app = await testApp();
  const story = smallStory(app.db, overrides);
  return { ...app, ...story, path: `/lines/graph?species=${story.species.id}` };
}

/** The addresses of the boxes in the drawings, in the order in which the keyboard meets them. */
const boxesIn = (html: string) =>
  [...html.matchAll(/<svg class="graph"[\s\S]*?<\/svg>/g)].flatMap(([svg]) =>
    [...svg.matchAll(/<a href="([^"]+)"/g)].map(([, href = '']) => href.replaceAll('&amp;', '&')),
  );
const labelOf = (html: string, code: string) =>
  new RegExp(`aria-label="(${code},[^"]*)"`).exec(html)?.[1] ?? '';
const linksIn = (html: string) =>
  [...html.matchAll(/class="graph-link graph-link-(\w+)"/g)].map(([, kind]) => kind);
const tableIn = (html: string) => html.slice(html.indexOf('graph-table'));

describe('the page of splits and mixings', () => {
  it('is for the staff, and leads others to the sign-in', async () => {
    const { owner, helper, outsider, path, app } = await withStory();
    for (const who of [owner, helper]) expect((await who.get(path)).status).toBe(200);
    expect((await outsider.get(path)).headers.location).toBe(`/sign-in?next=${encodeURIComponent(path)}`);
    expect((await app.inject({ method: 'POST', url: path })).statusCode).not.toBe(200);
  });

  it('draws every culture and every link, and says the same in a table', async () => {
    const { helper, path } = await withStory();
    const { text } = await helper.get(path);
    expect(boxesIn(text)).toEqual(
      ['FO-1', 'SP-1', 'SP-2', 'SP-3', 'FO-2']
        .map((code) => `/cultures/${code}`)
        .toSorted((a, b) => boxesIn(text).indexOf(a) - boxesIn(text).indexOf(b)),
    );
    expect(linksIn(text).toSorted()).toEqual(['mixing', 'split', 'split', 'split']);
    for (const code of ['FO-1', 'FO-2', 'SP-1', 'SP-2', 'SP-3'])
      expect(tableIn(text)).toContain(`>${code}</a>`);
    expect(tableIn(text)).toMatch(/mixed with <a[^>]*>FO-2<\/a> \(8, 1 Aug 2026\)/);
    expect(tableIn(text)).toContain('outside (24)');
    expect(text).toContain('4 cultures kept, 5 cultures ever.');
  });

  it('walks the boxes in the order of the tree: parents before children', async () => {
    const { helper, path } = await withStory();
    const boxes = boxesIn((await helper.get(path)).text);
    for (const code of ['SP-1', 'SP-2', 'SP-3'])
      expect(boxes.indexOf('/cultures/FO-1')).toBeLessThan(boxes.indexOf(`/cultures/${code}`));
  });

  it('shows the numbers of the calculation', async () => {
    const { helper, db, species, path } = await withStory();
    const { text } = await helper.get(path);
    const { found } = kinshipOf(db, species.id, testToday)!;
    for (const code of ['FO-1', 'FO-2', 'SP-1', 'SP-2']) {
      const place = found.placeOf(code)!;
      const f = found.at(place, place);
      expect(labelOf(text, code)).toContain(
        `inbreeding ${f.toFixed(2)}, ${Math.round((1 - f) * 100)}\u00a0% kept`,
      );
      expect(labelOf(text, code)).toMatch(/about \d+ \(\d+ to \d+\)/);
    }
    expect(labelOf(text, 'SP-3')).toBe('SP-3, retired');
  });

  it('says of females alone that inbreeding says nothing, and shows none', async () => {
    const { helper, path } = await withStory({ femaleShare: 1 });
    const { text } = await helper.get(path);
    expect(text).toContain('inbreeding and kinship say nothing here');
    expect(text).not.toMatch(/inbreeding \d/);
    expect(text).not.toContain('data-label="Inbreeding"');
  });

  it('carries no script that somebody wrote into a line', async () => {
    const { db, owner, species, path } = await withStory();
    insertLine(db, { speciesId: species.id, name: '<script>alert(1)</script>', locality: '', note: '' });
    expect((await owner.get(path)).text).not.toContain('<script>alert(1)');
  });
});

describe('around one culture', () => {
  it('is drawn with its ancestors and descendants', async () => {
    const { helper, path } = await withStory();
    const { text } = await helper.get(`${path}&focus=sp-2&up=1&down=0`);
    expect(text).toContain('aria-current="true"');
    expect(new Set(boxesIn(text).filter((href) => href.startsWith('/cultures/')))).toEqual(
      new Set(['/cultures/SP-2', '/cultures/FO-1', '/cultures/FO-2']),
    );
    expect(boxesIn(text)).toContain(`${path}&focus=FO-1&up=1&down=3`);
    expect(text).toContain('SP-2, 1 step back and 0 steps on.');
  });

  it('says so beside the field when there is no such culture, and keeps what was typed', async () => {
    const { helper, path } = await withStory();
    const answer = await helper.get(`${path}&focus=${encodeURIComponent('<b>NO-9')}`);
    expect(answer.status).toBe(422);
    expect(answer.text).toContain('There is no &lt;b>NO-9 in ');
    expect(answer.text).toContain('value="&lt;b>NO-9"');
  });

  it('takes steps and pages that make no sense for the usual ones', async () => {
    const { helper, path } = await withStory();
    for (const wrong of [
      '&up=-1',
      '&down=1000',
      '&up=x&down=%00',
      '&page=0',
      '&page=99',
      '&skip=-4&focus=FO-1',
    ])
      expect((await helper.get(path + wrong)).status, wrong).toBe(200);
  });
});

describe('which graph', () => {
  it('is that of a line when the address names one: parents elsewhere are named', async () => {
    const { db, helper, species, first, found, split } = { ...(await withStory()) };
    const lineId = insertLine(db, { speciesId: species.id, name: 'dusk', locality: '', note: '' });
    const own = split('LI-1', '2026-06-01', first, 10, { lineId });
    split('LI-2', '2026-07-01', own, 10);
    found('LI-9', '2026-03-03');
    const { text } = await helper.get(`/lines/graph?line=${lineId}`);
    expect(boxesIn(text)).toEqual([
      `/lines/graph?species=${species.id}&focus=FO-1&up=2&down=3`,
      '/cultures/LI-1',
      '/cultures/LI-2',
    ]);
    expect(text).toContain('Splits and mixings of line dusk');
  });

  it('must be one that is there', async () => {
    const { helper } = await withStory();
    for (const wrong of ['species=999', 'species=x', 'line=999', 'line=0', 'line=1e3', 'species=%00'])
      expect((await helper.get(`/lines/graph?${wrong}`)).status, wrong).toBe(404);
  });

  it('is asked for when the address names none', async () => {
    const { helper, species } = await withStory();
    const { text } = await helper.get('/lines/graph');
    expect(text).toContain(`/lines/graph?species=${species.id}`);
    const empty = await testApp();
    expect((await empty.owner.get('/lines/graph')).text).toContain('No cultures yet.');
  });
});

describe('a species with many cultures', () => {
  const crowd = (app: TestApp) => {
    const b = bench(app.db);
    const root = b.found('R-1', '2026-01-10', 40);
    const insert =
      app.sqlite.prepare(`INSERT INTO cultures (code, species_id, morph, enclosure_id, founded_on, origin,
      founding_animals, founding_sd_log, status, note, made_at) VALUES (?, ?, '', ?, '2026-03-01', 'split', 12, 0.1,
      'active', '', 1)`);
    const parent = app.sqlite.prepare('INSERT INTO culture_parents VALUES (?, ?, 12)');
    for (let i = 0; i < 90; i += 1) {
      const id = insert.run(`K-${i}`, b.species.id, root.enclosureId).lastInsertRowid;
      parent.run(id, root.id);
    }
    return b;
  };

  it('folds what does not fit into boxes that are links, and leads to all of it', async () => {
    const app = await testApp();
    const { species } = crowd(app);
    let next: string | undefined = `/lines/graph?species=${species.id}`;
    const seen = new Set<string>();
    for (let walks = 0; next && walks < 12; walks += 1) {
      const { text } = await app.helper.get(next);
      for (const href of boxesIn(text)) if (href.startsWith('/cultures/')) seen.add(href);
      const box = /<a href="([^"]+)" class="graph-more" aria-label="and \d+ more, /.exec(text)?.[1];
      if (walks === 0) expect(tableIn(text)).toMatch(/and \d+ more, from R-1/);
      next = box?.replaceAll('&amp;', '&');
    }
    expect(seen.size).toBe(91);
  });
});
