import type { Offer } from '../../shared/offers/offer.ts';
import {
  longest,
  mostGroups,
  type RequestFault,
  type RequestField,
  wantedField,
} from '../../shared/offers/request-form.ts';
import { countryCodes } from '../../shared/settings/countries.ts';
import { type Language, languages } from '../../shared/settings/languages.ts';
import { CustomerFrame } from '../arrivals/customer-frame.tsx';
import { HowKnown } from '../arrivals/part-known.tsx';
import { Actions, Button } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { ErrorSummary, Field, FieldSet, SelectField, TextAreaField } from '../layout/form.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import type { Speaker } from '../words/speaker.ts';
import { groupWords, spareWords } from './offer-words.ts';

export type AvailablePageProps = {
  speaker: Speaker;
  businessName: string;
  offers: readonly Offer[];
  currency: string;
  today: string;
  /** How many groups are named at most. */
  mostShown: number;
  /** Whether prices hold a tax, or one comes on top; null where there is none or both. */
  taxes: 'included' | 'added' | null;
  mayBeFound: boolean;
  /** Null where no requests are taken. */
  form: { formKey: string; values: Record<string, string>; faults: ReadonlyMap<string, RequestFault> } | null;
  wasSent: boolean;
  assetVersion: string;
  /** While nothing can be saved. */
  paused: boolean;
};

const namesOfLanguages: Record<Language, string> = { en: 'English', de: 'Deutsch', es: 'Español' };

function Languages({ speaker }: { speaker: Speaker }) {
  return (
    <p>
      {languages
        .filter((one) => one !== speaker.language)
        .map((one, index) => (
          <>
            {index > 0 && ' · '}
            <a key={one} href={`/available?lang=${one}`} lang={one} hreflang={one}>
              {namesOfLanguages[one]}
            </a>
          </>
        ))}
    </p>
  );
}

function List({ speaker, offers, currency }: AvailablePageProps) {
  if (offers.length === 0) return <p>{speaker.say('offers.none')}</p>;
  const columns: Column<Offer>[] = [
    {
      key: 'species',
      head: speaker.say('offers.species'),
      rowHeader: true,
      phoneLabel: '',
      cell: ({ scientificName, commonName }) => (
        <>
          <Latin>{scientificName}</Latin>
          {commonName && <small class="under"> {commonName}</small>}
        </>
      ),
    },
    { key: 'group', head: speaker.say('offers.group'), cell: (row) => groupWords(speaker, row) },
    {
      key: 'price',
      head: speaker.say('offers.price'),
      numeric: true,
      cell: ({ priceMinor }) => speaker.money(priceMinor, currency),
    },
    {
      key: 'spare',
      computed: 'surplus',
      head: speaker.say('offers.spare'),
      phoneWide: true,
      cell: (row) => spareWords(speaker, row),
    },
  ];
  return (
    <DataTable
      caption={speaker.say('offers.title')}
      hideCaption
      columns={columns}
      rows={offers}
      rowKey={({ speciesId }) => speciesId}
    />
  );
}

const priceWords = { included: 'known.priceHeld', added: 'known.priceAdded' } as const;

function Known({ speaker, offers, mostShown, taxes }: AvailablePageProps) {
  if (offers.length === 0) return null;
  return (
    <HowKnown
      speaker={speaker}
      of={['surplus']}
      lines={[
        speaker.say('known.spare'),
        offers.some(({ spare }) => spare.kind === 'more') &&
          speaker.say('known.mostShown', { most: speaker.number(mostShown) }),
        offers.some(({ ready }) => ready !== null) && speaker.say('known.ready'),
        speaker.say(taxes === null ? 'known.price' : priceWords[taxes]),
        speaker.say('known.changes'),
      ]}
    />
  );
}

function faultWords(speaker: Speaker, name: string, fault: RequestFault): string {
  switch (fault) {
    case 'name':
      return speaker.say('offers.faultName');
    case 'email':
      return speaker.say('offers.faultEmail');
    case 'country':
      return speaker.say('offers.faultCountry');
    case 'groups':
      return speaker.say('offers.faultGroups', { most: String(mostGroups) });
    case 'nothing':
      return speaker.say('offers.faultNothing');
    case 'tooLong':
      return speaker.say('offers.faultTooLong', { most: String(longest[name as RequestField] ?? 0) });
  }
}

function countryOptions(speaker: Speaker) {
  return countryCodes
    .map((value) => ({ value, label: speaker.country(value) }))
    .sort((a, b) => a.label.localeCompare(b.label, speaker.language));
}

type FormProps = AvailablePageProps & { form: NonNullable<AvailablePageProps['form']> };

const errorsOf = ({ speaker, form }: FormProps) =>
  Object.fromEntries([...form.faults].map(([name, fault]) => [name, faultWords(speaker, name, fault)]));

function fieldsFor(props: FormProps) {
  const { speaker, form } = props;
  const errors = errorsOf(props);
  const at = (name: string) => ({ name, value: form.values[name] ?? '', error: errors[name] });
  const label = (name: RequestField) => {
    const words = speaker.say(`offers.${name}`);
    const isNeeded = name === 'name' || name === 'email' || name === 'country';
    return isNeeded ? words : `${words} (${speaker.say('offers.optional')})`;
  };
  return { at, label };
}

function Wanted(props: FormProps) {
  const { speaker, offers } = props;
  const { at } = fieldsFor(props);
  return (
    <FieldSet legend={speaker.say('offers.howMany')}>
      {offers.map(({ speciesId, scientificName }) => (
        <div key={speciesId}>
          <p>
            <Latin>{scientificName}</Latin>
          </p>
          <Field
            label={speaker.say('offers.howManyOf', { species: scientificName })}
            hideLabel
            {...at(wantedField(speciesId))}
            inputMode="numeric"
            size="short"
            maxLength={3}
          />
        </div>
      ))}
    </FieldSet>
  );
}

function Person(props: FormProps) {
  const { speaker } = props;
  const { at, label } = fieldsFor(props);
  const line = (name: Exclude<RequestField, 'country' | 'street' | 'note'>, autocomplete: string) => (
    <Field label={label(name)} {...at(name)} maxLength={longest[name]} autocomplete={autocomplete} />
  );
  return (
    <>
      <FieldSet legend={speaker.say('offers.who')}>
        {line('name', 'name')}
        <Field label={label('email')} {...at('email')} type="email" maxLength={254} autocomplete="email" />
      </FieldSet>
      <FieldSet legend={speaker.say('offers.where')}>
        <TextAreaField
          label={label('street')}
          {...at('street')}
          rows={2}
          maxLength={longest.street}
          autocomplete="street-address"
        />
        {line('postcode', 'postal-code')}
        {line('city', 'address-level2')}
        {line('region', 'address-level1')}
        <SelectField
          label={label('country')}
          {...at('country')}
          empty={speaker.say('offers.chooseCountry')}
          options={countryOptions(speaker)}
        />
      </FieldSet>
      <TextAreaField label={label('note')} {...at('note')} rows={3} maxLength={longest.note} />
    </>
  );
}

function AskForm(props: FormProps) {
  const { speaker, form } = props;
  return (
    <section id="ask">
      <h2>{speaker.say('offers.ask')}</h2>
      <p>{speaker.say('offers.askWords')}</p>
      <form method="post" action={`/available?lang=${speaker.language}`} class="form" noValidate>
        <input type="hidden" name="formKey" value={form.formKey} />
        <ErrorSummary errors={errorsOf(props)} title={speaker.say('offers.mend')} />
        <Wanted {...props} />
        <Person {...props} />
        <p class="quiet">{speaker.say('offers.kept')}</p>
        <Actions>
          <Button kind="main">{speaker.say('offers.send')}</Button>
        </Actions>
      </form>
    </section>
  );
}

/** What is spare, for everybody, and the form to ask for it. */
export function AvailablePage(props: AvailablePageProps) {
  const { speaker, businessName, offers, today, form, wasSent, assetVersion, mayBeFound } = props;
  return (
    <CustomerFrame
      isPublic
      language={speaker.language}
      businessName={businessName}
      title={speaker.say('offers.title')}
      purpose={speaker.say('offers.purpose', { business: businessName })}
      assetVersion={assetVersion}
      notice={props.paused ? speaker.say('page.pausedSoon') : null}
      mayBeFound={mayBeFound}
      width="wide"
    >
      <Languages speaker={speaker} />
      {wasSent && (
        <p class="customer-said" role="status">
          {speaker.say('offers.sent')}
        </p>
      )}
      {form !== null && form.faults.size > 0 && (
        <p class="customer-said">
          <a href="#ask">{speaker.say('offers.mend')}</a>
        </p>
      )}
      <List {...props} />
      <p>{speaker.say('offers.asOf', { day: speaker.day(today) })}</p>
      <Known {...props} />
      <p class="quiet">{speaker.say('offers.law')}</p>
      {form !== null && offers.length > 0 && <AskForm {...props} form={form} />}
    </CustomerFrame>
  );
}
