import { countryName } from '../../shared/settings/countries.ts';
import { LinkButton } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import { FilterBar } from '../layout/filter-bar.tsx';
import { Field } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { type Breadcrumb, Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';

export type CustomerChoice = {
  id: number;
  name: string;
  postcode: string;
  city: string;
  country: string;
  href: string;
};

export type ChooseCustomerPageProps = {
  furniture: Furniture;
  title: string;
  breadcrumbs: readonly Breadcrumb[];
  /** Where the search goes, and what it keeps. */
  action: string;
  keep: Record<string, string>;
  words: string;
  choices: readonly CustomerChoice[];
  /** More than are shown. */
  more: boolean;
  newCustomerHref: string;
  /** Drafts the animals could join instead; only when the order begins with a culture. */
  drafts: readonly { number: number; customerName: string; href: string }[];
};

function Drafts({ drafts }: Pick<ChooseCustomerPageProps, 'drafts'>) {
  if (drafts.length === 0) return null;
  return (
    <section>
      <h2>Or add them to a draft</h2>
      <ul class="plain-list">
        {drafts.map((draft) => (
          <li key={draft.number}>
            <a href={draft.href}>
              Order {draft.number} for {draft.customerName}
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** The first step of an order: for whom. */
export function ChooseCustomerPage(props: ChooseCustomerPageProps) {
  const { furniture, title, breadcrumbs, action, keep, words, choices, more, newCustomerHref, drafts } =
    props;
  return (
    <Shell
      furniture={furniture}
      title={title}
      purpose="For whom is it?"
      breadcrumbs={breadcrumbs}
      actions={<LinkButton href={newCustomerHref}>New customer</LinkButton>}
    >
      <FilterBar action={action} label="Find the customer" submit="Find" keep={keep}>
        <Field label="Name, town or e-mail" name="words" type="search" value={words} autoFocus />
      </FilterBar>
      {choices.length === 0 ? (
        <Empty
          title={words === '' ? 'No customers yet.' : `No customer has words that begin with “${words}”.`}
          step={{ href: newCustomerHref, label: 'Write down a new customer' }}
        />
      ) : (
        <DataTable
          caption={words === '' ? 'Customers with the latest orders' : 'Customers found'}
          columns={[
            { key: 'name', head: 'Name', cell: (row) => <a href={row.href}>{row.name}</a> },
            {
              key: 'town',
              head: 'Town',
              cell: (row) =>
                [`${row.postcode} ${row.city}`.trim(), countryName(row.country)].filter(Boolean).join(', '),
            },
          ]}
          rows={choices}
          rowKey={(row) => row.id}
        />
      )}
      {more && <p class="quiet">There are more; write another word to find the one you mean.</p>}
      <Drafts drafts={drafts} />
    </Shell>
  );
}
