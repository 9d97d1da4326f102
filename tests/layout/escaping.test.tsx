import { describe, expect, it } from 'vitest';
import { Code, Latin } from '../../views/layout/code.tsx';
import { Empty } from '../../views/layout/empty.tsx';
import { ErrorPage } from '../../views/layout/error-page.tsx';
import { Facts } from '../../views/layout/facts.tsx';
import { ErrorSummary, Field, SelectField, TextAreaField } from '../../views/layout/form.tsx';
import { Notice } from '../../views/layout/notice.tsx';
import { renderPage, renderPart } from '../../views/layout/render.ts';
import { Shell } from '../../views/layout/shell.tsx';
import { DataTable } from '../../views/layout/table.tsx';
import { furniture } from './furniture.ts';

const payloads = [
  '<script>alert(1)</script>',
  '"><img src=x onerror=alert(1)>',
  "' autofocus onfocus=alert(1) x='",
  '</textarea><script>alert(1)</script>',
  '</title><svg onload=alert(1)>',
  '&lt;b&gt;',
];

/** The tags of a page, as their names only: data must not add, remove or rename one. */
function tagsOf(html: string): string[] {
  return [...html.matchAll(/<\/?([a-z][a-z0-9]*)/gi)].map((match) => match[0].toLowerCase());
}

function everythingWith(text: string): string {
  return renderPage(
    <Shell
      furniture={furniture({
        businessName: text,
        who: { name: text, role: 'owner' },
        csrfToken: text,
        formKey: text,
        notice: { text, tone: 'harm', undo: { action: '/undo', label: text, fields: { what: text } } },
      })}
      title={text}
      purpose={text}
      breadcrumbs={[{ href: text, label: text }]}
    >
      <ErrorSummary errors={{ a: text, '': text }} labels={{ a: text }} />
      <Field label={text} name={text} value={text} help={text} error={text} unit={text} list={[text]} />
      <TextAreaField label={text} name="note" value={text} />
      <SelectField label={text} name="s" value={text} options={[{ value: text, label: text }]} />
      <Notice tone="needs-you">{text}</Notice>
      <Facts items={[{ term: text, value: text, note: text }]} />
      <Empty title={text} step={{ href: '/x', label: text }} />
      <DataTable
        caption={text}
        columns={[
          { key: 'a', head: text, cell: (row: string) => row },
          { key: 'b', head: text, cell: (row: string) => <Code>{row}</Code> },
        ]}
        rows={[text]}
        rowKey={(row) => row}
      />
      <Latin>{text}</Latin>
    </Shell>,
  );
}

describe('text from people', () => {
  const expected = tagsOf(everythingWith('plain words'));

  it.each(payloads)('never becomes markup: %s', (payload) => {
    expect(tagsOf(everythingWith(payload))).toEqual(expected);
  });

  it('is shown as it was written', () => {
    expect(renderPart(<Code>{'<A&B>'}</Code>)).toContain('&lt;A&amp;B');
  });
});

describe('a page under the content security policy', () => {
  const pages = [everythingWith('x'), renderPage(<ErrorPage status={500} requestId="r-1" />)];

  it.each(pages)('has no inline style, script or handler', (html) => {
    expect(html).not.toMatch(/\sstyle=/);
    expect(html).not.toMatch(/<style/);
    expect(html).not.toMatch(/\son[a-z]+=/);
    for (const script of html.matchAll(/<script([^>]*)>([^<]*)/g)) {
      expect(script[1]).toMatch(/ src="\/static\//);
      expect(script[2]).toBe('');
    }
  });
});
