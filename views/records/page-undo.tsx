import { cultureHref } from '../cultures/page-list.tsx';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { Facts } from '../layout/facts.tsx';
import { Form } from '../layout/form.tsx';
import { formatNumber } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { type BroughtData, daysWords, kindsWords, madeWords } from './brought.ts';

export type UndoPageProps = {
  furniture: Furniture;
  id: number;
  files: string[];
  brought: BroughtData;
  /** What stands on it: nothing can be undone then. */
  dependents: { what: string; codes: string[]; count: number }[];
};

function Dependents({ dependents }: UndoPageProps) {
  return (
    <Notice tone="needs-you">
      this cannot be undone, because later things stand on it:
      <ul>
        {dependents.map(({ what, codes, count }) => (
          <li key={what}>
            {formatNumber(count)} {what}
            {codes.length > 0 && ': '}
            {codes.map((code, at) => (
              <span key={code}>
                {at > 0 && ', '}
                {code.startsWith('order ') ? (
                  <a href={`/orders/${code.slice(6)}`}>{code}</a>
                ) : (
                  <a href={cultureHref(code)}>{code}</a>
                )}
              </span>
            ))}
            {count > codes.length && codes.length > 0 && ' ...'}
          </li>
        ))}
      </ul>
      What is wrong in single entries can be corrected in the diary of the culture.
    </Notice>
  );
}

/** What goes when an import is undone; asked before it is done. */
export function UndoPage(props: UndoPageProps) {
  const { furniture, id, files, brought, dependents } = props;
  const back = `/records/imports/${id}`;
  return (
    <Shell
      furniture={furniture}
      title={`Undo ${files.join(' and ')}?`}
      purpose="Everything that came in with it goes again, and nothing else."
      breadcrumbs={[
        { href: '/records', label: 'Records' },
        { href: back, label: 'What came in' },
      ]}
    >
      {dependents.length > 0 && <Dependents {...props} />}
      <Facts
        items={[
          {
            term: 'Goes',
            value: madeWords(brought, furniture.locale),
            note: 'unless something else uses it by now',
          },
          { term: 'Entries', value: kindsWords(brought, furniture.locale) },
          { term: 'Days', value: daysWords(brought, furniture.locale) },
        ]}
      />
      {dependents.length === 0 ? (
        <Form furniture={furniture} action={`${back}/undo`}>
          <Actions>
            <Button kind="harm">Undo all of it</Button>
            <LinkButton href={back}>Keep it</LinkButton>
          </Actions>
          <p class="quiet after-actions">The files can be brought in again afterwards.</p>
        </Form>
      ) : (
        <Actions>
          <LinkButton href={back}>Back</LinkButton>
        </Actions>
      )}
    </Shell>
  );
}
