import request from 'supertest';
import { describe, expect, it } from 'vitest';
import { contentsOf } from '../support/contents.ts';
import { cast, testToday } from '../support/test-app.ts';
import { furnishedBench, gets, type Walk } from '../support/walk.ts';

/** A customer whose words stand in all that was written for them. */
const plant = ({ sqlite }: Walk) =>
  sqlite.exec(`UPDATE customers SET name = 'Quilla Planted', email = 'quilla@example.org', street = '7 Quilla Row';
    UPDATE order_requests SET name = 'Quilla Planted';
    UPDATE mails SET to_name = 'Quilla Planted';
    UPDATE orders SET dispatch_on = '${testToday}';
    DROP TRIGGER personal_reads_are_kept`);

const ofOne = /^\/(customers|orders|invoices|mails|requests|parcels\/orders|people)\/:/;

describe('reading', () => {
  it('changes nothing, whoever reads; who has read what is about a person is written down (ASVS 16.3)', async () => {
    const t = await furnishedBench();
    plant(t);
    const read = t.sqlite.prepare("SELECT DISTINCT person_id || ' ' || subject FROM personal_reads").pluck();
    const before = contentsOf(t.sqlite);
    const [silent, noted]: [string[], Set<unknown>] = [[], new Set()];
    for (const address of gets(t)) {
      t.sqlite.exec('DELETE FROM personal_reads');
      await request(t.app.server).head(t.at(address));
      await t.outsider.get(t.at(address));
      expect([address.path, read.all()]).toEqual([address.path, []]);
      for (const visitor of [t.helper, t.owner]) {
        const where = t.at(address) + (address.path === '/search' ? '?q=Quilla' : '');
        const { status, text = '' } = await visitor.get(where);
        const isSomebodys = text.includes('Quilla') || (status === 200 && ofOne.test(address.path));
        const who = visitor === t.owner ? cast.owner.id : cast.helper.id;
        const lines = read.all().filter((line) => String(line).startsWith(who));
        for (const line of lines) noted.add(String(line).slice(who.length + 1));
        if (address.access !== 'anyone' && isSomebodys && lines.length === 0) silent.push(address.path);
      }
      expect([address.path, contentsOf(t.sqlite)]).toEqual([address.path, before]);
    }
    expect(silent).toEqual([]);
    expect([...noted].sort()).toEqual(
      'customer 1,customers,invoice 1,invoices,mail 1,mails,order 1,orders,person person-helper,record of changes,request 1,requests,search'.split(
        ',',
      ),
    );
  });

  it('with a link in a mail uses nothing up', async () => {
    const t = await furnishedBench();
    const link = `/invitation?token=${'w'.repeat(43)}`;
    for (let count = 0; count < 3; count += 1) {
      expect((await t.outsider.get(link)).status).toBe(200);
      await request(t.app.server).head(link);
    }
    expect((await t.outsider.get(link)).status).toBe(200);
  });
});
