import { COUNT_METHODS, type CountMethod } from '../../shared/counts/form.ts';
import type { Objection } from '../../shared/cultures/objections.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { AboutCulture, CultureHeading } from '../cultures/part-about.tsx';
import { ChipLinks } from '../cultures/part-chip-links.tsx';
import { Objections } from '../cultures/part-objections.tsx';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf, TextAreaField } from '../layout/form.tsx';
import { formatPercent } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { Computed, WorkedOut } from '../layout/worked-out.tsx';
import { type ContactChoices, contactLabels, ToolsFields } from '../traces/part-contact-fields.tsx';
import { methodWords } from './method-words.ts';
import { countLabels, MethodFields } from './part-method-fields.tsx';

export type CountPageProps = {
  furniture: Furniture;
  code: string;
  scientificName: string;
  place: string | null;
  method: CountMethod;
  /** Where to go on when the count is written down, as `fromRound` says it; the culture's page when left empty. */
  from: string | null;
  form: FormState;
  today: string;
  /** What is known before this count, in a sentence. */
  known: string;
  /** The share of the species that shows on average, for the visible count; null where the page is for any species. */
  shows: number | null;
  cautions: string;
  objections: Objection[];
  contacts: ContactChoices;
};

const countHref = (code: string, method: CountMethod, from: CountPageProps['from']) =>
  `${cultureHref(code)}/count?method=${method}${from ? `&from=${from}` : ''}`;

function Methods({ code, method, from }: Pick<CountPageProps, 'code' | 'method' | 'from'>) {
  return (
    <ChipLinks
      label="Ways of counting"
      tall
      links={COUNT_METHODS.map((m) => ({
        href: countHref(code, m, from),
        label: methodWords[m].label,
        help: `${methodWords[m].good} ${methodWords[m].takes}.`,
        current: m === method,
      }))}
    />
  );
}

const helped: Partial<Record<CountMethod, { path: string; label: string }>> = {
  full: { path: 'tally?method=full', label: 'Count by taps' },
  sample: { path: 'tally?method=sample', label: 'Count by taps' },
  removal: { path: 'catches', label: 'Catch by catch' },
  visible: { path: 'photo', label: 'Count on a photo' },
};

/** The page that helps to count in this way, where there is one. */
function Helped({ code, method }: Pick<CountPageProps, 'code' | 'method'>) {
  const help = helped[method];
  return help ? (
    <Actions>
      <LinkButton href={`${cultureHref(code)}/${help.path}`}>{help.label}</LinkButton>
    </Actions>
  ) : null;
}

function How({ method, shows }: Pick<CountPageProps, 'method' | 'shows'>) {
  return (
    <WorkedOut of="population" label="What becomes of the number">
      {method === 'visible' && (
        <p>
          Of{' '}
          {shows === null
            ? 'each species only a share shows'
            : `this species about ${formatPercent(shows)} show`}{' '}
          on average, but it varies from visit to visit: the number seen is divided by that share, with the
          doubt that belongs to it.
        </p>
      )}
      <p>
        The count is weighed against everything known before it, by its own doubt, and the estimate moves as
        far as it should. It can be corrected or taken out later; nothing is overwritten.
      </p>
    </WorkedOut>
  );
}

/** What the form brings along without being asked. */
function Along({ method, form, from }: Pick<CountPageProps, 'method' | 'form' | 'from'>) {
  return (
    <>
      <input type="hidden" name="method" value={method} />
      {from && <input type="hidden" name="from" value={from} />}
      {['photo', 'taps'].map((name) => {
        const { value } = fieldOf(form, name);
        return value ? <input key={name} type="hidden" name={name} value={value} /> : null;
      })}
    </>
  );
}

export function CountPage(props: CountPageProps) {
  const { furniture, code, method, form, today, objections } = props;
  const at = cultureHref(code);
  return (
    <Shell
      furniture={furniture}
      title={`Count ${code}`}
      heading={<CultureHeading code={code}>Count</CultureHeading>}
      purpose={
        <AboutCulture scientificName={props.scientificName} place={props.place}>
          from what you count comes how many are in there.
        </AboutCulture>
      }
      breadcrumbs={[
        { href: '/cultures', label: 'Cultures' },
        { href: at, label: code },
      ]}
    >
      <p>
        <strong>{methodWords[method].label}.</strong> {methodWords[method].how}{' '}
        <a href="#ways">Count another way</a>
      </p>
      <p class="quiet">
        Known so far: <Computed of="population">{props.known}</Computed>.
      </p>
      <Helped code={code} method={method} />
      <Form furniture={furniture} action={`${at}/count`} keyPart={method}>
        <Along method={method} form={form} from={props.from} />
        <ErrorSummary errors={form.errors} labels={{ ...countLabels, ...contactLabels }} />
        <Objections
          objections={objections}
          form={form}
          isOwner={furniture.who?.role === 'owner'}
          submit="Write it down all the same"
        />
        <MethodFields method={method} form={form} />
        <ToolsFields form={form} choices={props.contacts} />
        <Field label="Day" type="date" max={today} {...fieldOf(form, 'onDay')} />
        <TextAreaField label="Note" rows={2} maxLength={3500} {...fieldOf(form, 'note')} optional />
        <Actions>
          <Button kind="main">Write it down</Button>
          <LinkButton href={at}>Leave</LinkButton>
        </Actions>
      </Form>
      <How method={method} shows={props.shows} />
      <section id="ways" aria-labelledby="ways-title">
        <h2 id="ways-title">Ways of counting</h2>
        <Methods code={code} method={method} from={props.from} />
      </section>
      {props.cautions && <p class="quiet">{props.cautions}</p>}
    </Shell>
  );
}
