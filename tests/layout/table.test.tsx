import { describe, expect, it } from 'vitest';
import { chosenOf, FilterBar } from '../../views/layout/filter-bar.tsx';
import { Pager } from '../../views/layout/pager.tsx';
import { renderPart } from '../../views/layout/render.ts';
import { type Column, DataTable } from '../../views/layout/table.tsx';

type Row = { code: string; spare: number };

const columns: Column<Row>[] = [
  { key: 'spare', head: 'Spare groups', numeric: true, cell: (row) => row.spare, phoneLabel: 'Spare' },
  {
    key: 'code',
    head: 'Culture',
    rowHeader: true,
    cell: (row) => row.code,
    sort: { href: '?sort=code', direction: 'up' },
  },
  { key: 'do', head: 'Steps', hideHead: true, phoneLabel: '', hideOnPhone: true, cell: () => 'Count' },
];

const row: Row = { code: 'PS-014', spare: 2 };

function table(rows: Row[]): string {
  return renderPart(
    <DataTable
      caption="Cultures"
      columns={columns}
      rows={rows}
      rowKey={(each) => each.code}
      rowTone={(each) => (each.spare === 0 ? 'needs-you' : undefined)}
    />,
  );
}

describe('a table', () => {
  const html = table([row, { code: 'PS-015', spare: 0 }]);

  it('has a caption, column heads and one row header in each row', () => {
    expect(html).toContain('<caption>Cultures</caption>');
    expect(html.match(/scope="col"/g)).toHaveLength(3);
    expect(html.match(/<th scope="row"/g)).toHaveLength(2);
    expect(html).toContain('<th scope="row" role="rowheader">PS-014</th>');
  });

  it('says what it is sorted by, in the markup and as a link', () => {
    expect(html).toMatch(
      /<th scope="col" role="columnheader" class="sortable" aria-sort="ascending"><a href="\?sort=code"/,
    );
  });

  it('tells the phone what to write before each value', () => {
    expect(html).toContain('<td role="cell" class="numeric" data-label="Spare">2</td>');
    expect(html).toContain('<td role="cell" class="not-on-phone phone-wide">Count</td>');
    expect(html).toContain('<span class="visually-hidden">Steps</span>');
  });

  it('marks rows that ask for somebody', () => {
    expect(html.match(/<tr role="row" class="[^"]+">/g)).toEqual(['<tr role="row" class="row-needs-you">']);
    expect(html).toMatch(/class="row-needs-you">(?:(?!<tr).)*PS-015/s);
  });

  it('holds two thousand rows', () => {
    const many = Array.from({ length: 2000 }, (_, index) => ({ code: `C${index}`, spare: index }));
    expect(table(many).match(/scope="row"/g)).toHaveLength(2000);
  });
});

describe('around a table', () => {
  it('the pager says where one is and links both ways', () => {
    const pager = (page: number, total: number) =>
      renderPart(
        <Pager page={page} pageSize={30} total={total} href={(to) => `?page=${to}`} what="cultures" />,
      );
    expect(pager(2, 412)).toContain('31 to 60 of 412 cultures');
    expect(pager(2, 412)).toContain('href="?page=1"');
    expect(pager(2, 412)).toContain('href="?page=3"');
    expect(pager(14, 412)).toContain('391 to 412 of 412 cultures');
    expect(pager(14, 412)).not.toContain('?page=15');
    expect(pager(1, 12)).toContain('>12 cultures<');
  });

  it('several filters fold into a line that names what is set', () => {
    const bar = (chosen: (string | null)[]) =>
      renderPart(
        <FilterBar action="/surplus" clearHref="/surplus" chosen={chosen}>
          <input name="q" />
        </FilterBar>,
      );
    const options = [
      { value: 'all', label: 'All' },
      { value: 'spare', label: 'Spare now' },
    ];
    const folded = bar([null, '“moss”', chosenOf(options, 'spare')]);
    expect(folded).toContain('<details><summary>Filters: “moss”, Spare now</summary></details>');
    expect(folded.match(/Show all/g)).toHaveLength(2);
    const plain = bar([chosenOf(options, 'all'), chosenOf(options, undefined)]);
    expect(plain).toContain('<summary>Filters</summary>');
    expect(plain.match(/Show all/g)).toHaveLength(1);
  });

  it('filters are a GET form that keeps the order', () => {
    const html = renderPart(
      <FilterBar action="/surplus" keep={{ sort: 'spare' }} clearHref="/surplus">
        x
      </FilterBar>,
    );
    expect(html).toContain('method="get" action="/surplus"');
    expect(html).toContain('<input type="hidden" name="sort" value="spare"/>');
    expect(html).toContain('>Show all</a>');
  });
});
