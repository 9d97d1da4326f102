import type { Offer } from '../../shared/offers/offer.ts';
import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import {
  CheckField,
  ErrorSummary,
  Field,
  Form,
  type FormState,
  fieldOf,
  TextAreaField,
} from '../layout/form.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { type Speaker, speakerFor } from '../words/speaker.ts';
import { groupWords, spareWords } from './offer-words.ts';

export type OfferRow = { offer: Offer; isListed: boolean; groupsSpare: number };

export type OffersPageProps = {
  furniture: Furniture;
  rows: readonly OfferRow[];
  currency: string;
  /** In the owner's words for numbers and days. */
  locale: string;
  isOn: boolean;
  address: string;
  form: FormState;
  waiting: number;
  /** The list to paste, by language. */
  texts: readonly { language: string; text: string }[];
};

function columnsFor(furniture: Furniture, say: Speaker, currency: string): Column<OfferRow>[] {
  return [
    {
      key: 'species',
      head: 'Species',
      rowHeader: true,
      cell: ({ offer }) => <Latin>{offer.scientificName}</Latin>,
    },
    { key: 'group', head: 'Group', cell: ({ offer }) => groupWords(say, offer) },
    {
      key: 'price',
      head: 'Price',
      numeric: true,
      cell: ({ offer }) => (
        <a href={`/species/${offer.speciesId}/edit`}>{say.money(offer.priceMinor, currency)}</a>
      ),
    },
    {
      key: 'spare',
      head: 'Spare',
      numeric: true,
      computed: 'surplus',
      cell: ({ groupsSpare }) => groupsSpare,
    },
    {
      key: 'shown',
      head: 'Strangers read',
      computed: 'surplus',
      phoneWide: true,
      cell: ({ offer, isListed }) => {
        if (!isListed) return 'left out';
        if (offer.spare.kind === 'none' && offer.ready === null) return 'nothing, until there is a day';
        return spareWords(say, offer);
      },
    },
    {
      key: 'change',
      head: 'Change',
      hideHead: true,
      phoneLabel: '',
      cell: ({ offer, isListed }) => (
        <PostButton
          furniture={furniture}
          action={`/offers/species/${offer.speciesId}`}
          fields={{ listed: isListed ? 'no' : 'yes' }}
          label={isListed ? 'Leave out' : 'List'}
          ariaLabel={`${isListed ? 'Leave out' : 'List'} ${offer.scientificName}`}
          kind="quiet"
          keyPart={`species-${offer.speciesId}`}
        />
      ),
    },
  ];
}

const labels = {
  isOn: 'Show the list to everybody',
  mayBeFound: 'Search engines may take it up',
  takesRequests: 'Take requests there',
  mostShown: 'Say at most',
};

function Settings({ furniture, form }: OffersPageProps) {
  const isChecked = (name: string) => form.values[name] === 'yes';
  return (
    <section>
      <h2>The public page</h2>
      <Form furniture={furniture} action="/offers">
        <FilledFrom form={form} words={labels} />
        <ErrorSummary errors={form.errors} labels={labels} />
        <CheckField
          label={labels.isOn}
          name="isOn"
          checked={isChecked('isOn')}
          help="Species, groups, prices, what is spare and when the next are ready. No cultures, places or customers."
        />
        <CheckField label={labels.mayBeFound} name="mayBeFound" checked={isChecked('mayBeFound')} />
        <CheckField
          label={labels.takesRequests}
          name="takesRequests"
          checked={isChecked('takesRequests')}
          help="A request reserves nothing and waits for you. Whoever writes gets no mail from here."
        />
        <Field
          label={labels.mostShown}
          {...fieldOf(form, 'mostShown')}
          inputMode="numeric"
          size="short"
          unit="groups"
          help="Where more are spare, strangers read “more than” this number."
        />
        <Actions>
          <Button kind="main">Save</Button>
        </Actions>
      </Form>
    </section>
  );
}

function ToPaste({ texts }: OffersPageProps) {
  return (
    <section>
      <h2>To paste</h2>
      {texts.map(({ language, text }) => (
        <details key={language}>
          <summary>{language}</summary>
          <TextAreaField
            label={`The list in ${language}`}
            name={`text-${language}`}
            value={text}
            rows={Math.min(16, text.split('\n').length + 1)}
          />
        </details>
      ))}
    </section>
  );
}

/** What is spare, as strangers may read it: which species are listed, and the public page. */
export function OffersPage(props: OffersPageProps) {
  const { furniture, rows, currency, locale, isOn, address, waiting } = props;
  const say = speakerFor({ language: 'en', locale });
  return (
    <Shell
      furniture={furniture}
      title="Availability list"
      purpose="What you can spare, for those who want to buy: never more than is spare now."
      width="wide"
      breadcrumbs={[{ href: '/surplus', label: 'Surplus' }]}
      actions={
        <>
          <LinkButton href="/offers/list.pdf" kind="main">
            Print it
          </LinkButton>
          <LinkButton href="/requests">Requests</LinkButton>
        </>
      }
    >
      {waiting > 0 && (
        <Notice tone="needs-you" links={[{ href: '/requests', label: 'Look at them' }]}>
          {formatCount(waiting, 'request')} {waiting === 1 ? 'waits' : 'wait'} for you.
        </Notice>
      )}
      <p>
        {isOn ? (
          <>
            Everybody can read it at <a href="/available">{address}</a>.
          </>
        ) : (
          'The public page is off: only you see this list.'
        )}
      </p>
      {rows.length === 0 ? (
        <Empty
          title="No species for sale is kept yet."
          step={{ href: '/species', label: 'Look at the species' }}
        />
      ) : (
        <>
          <DataTable
            caption="Species for sale"
            columns={columnsFor(furniture, say, currency)}
            rows={rows}
            rowKey={({ offer }) => offer.speciesId}
          />
          <WorkedOut of="surplus" />
        </>
      )}
      <Settings {...props} />
      <ToPaste {...props} />
    </Shell>
  );
}
