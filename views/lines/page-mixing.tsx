import type { Objection } from '../../shared/cultures/objections.ts';
import type { Partner } from '../../shared/lines/mixing.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { CultureHeading } from '../cultures/part-about.tsx';
import { Objections } from '../cultures/part-objections.tsx';
import { healthWords } from '../cultures/say.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import {
  ErrorSummary,
  Field,
  Form,
  type FormState,
  fieldOf,
  SelectField,
  TextAreaField,
} from '../layout/form.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { Computed, More, WorkedOut } from '../layout/worked-out.tsx';
import { PartnerTable } from './part-partners.tsx';
import { clonalWords, formatGeneShare } from './say.ts';
import { type Mixture, sayMixture } from './say-worked-out.ts';

export type PartnerRow = Partner & {
  id: number;
  line: string | null;
  median: number | null;
  lower: number | null;
  upper: number | null;
  spareAnimals: number;
  health: string;
};

export type MixingPageProps = {
  furniture: Furniture;
  code: string;
  scientificName: string;
  place: string | null;
  inQuarantine: boolean;
  health: string;
  /** One clone: nothing to gain. */
  clonal: boolean;
  /** The share of heterozygosity it keeps; null where that says nothing. */
  kept: number | null;
  isInbred: boolean;
  isShrinking: boolean;
  hasDiedOut: boolean;
  /** The best first. */
  partners: PartnerRow[];
  /** Of the first of them, what their figures stand on. */
  mixtures: Mixture[];
  notShown: number;
  /** Cultures that are not proposed, and why. */
  apart: { code: string; why: string }[];
  /** All that animals may come from. */
  others: { id: number; code: string }[];
  form: FormState;
  today: string;
  objections: Objection[];
};

const labels: Record<string, string> = {
  fromId: 'Where from',
  animals: 'Animals',
  adults: 'Of these, adults',
  juveniles: 'Of these, juveniles',
  onDay: 'Day',
  note: 'Note',
  reason: 'Why all the same',
};

function verdict({
  code,
  kept,
  isInbred,
  isShrinking,
  furniture,
  clonal,
  hasDiedOut,
}: MixingPageProps): string {
  if (clonal) return clonalWords;
  if (hasDiedOut) return `By all that is known no animals are left in ${code}: found it anew instead.`;
  if (kept === null) return 'Nothing is known of its founders.';
  const keeps = `${code} keeps ${formatGeneShare(kept, furniture.locale)} of its founders’ heterozygosity`;
  if (isInbred) return `${keeps}, less than a single pair would leave: strangers would do it good.`;
  if (isShrinking) return `${keeps}, and its number is expected to fall: animals from elsewhere would help.`;
  return `${keeps}: it does not need strangers now.`;
}

function Trouble({ code, inQuarantine, health }: MixingPageProps) {
  if (inQuarantine)
    return (
      <Notice tone="needs-you">
        {code} is in quarantine: whatever is put in meets what it is kept there for.
      </Notice>
    );
  if (health === 'well') return null;
  return (
    <Notice tone="needs-you">
      {code}: {healthWords[health] ?? health}. Put nothing in before that is over.
    </Notice>
  );
}

function Apart({ apart }: Pick<MixingPageProps, 'apart'>) {
  if (apart.length === 0) return null;
  return (
    <More label={`${formatCount(apart.length, 'culture')} not proposed`}>
      <ul>
        {apart.slice(0, 40).map(({ code, why }) => (
          <li key={code}>
            {code}: {why}.
          </li>
        ))}
      </ul>
      {apart.length > 40 && <p>And {apart.length - 40} more.</p>}
    </More>
  );
}

function How({ code, mixtures, furniture }: MixingPageProps) {
  const so = mixtures.map((one) => sayMixture(code, one, furniture.locale));
  return (
    <WorkedOut of={['mixing', 'kinship', 'surplus', 'population']} so={so}>
      <p>
        A mixture keeps what its two parts keep, and all in which they differ. With a share w of newcomers,
        inbreeding becomes (1−w)² of its own, w² of theirs, and 2w(1−w) of the kinship between the two
        (Malécot 1948). The best number is where that is least; a few animals give most of it. Partners stand
        in the order of what the culture can keep at best. Ready at once means at the moment of mixing: later
        generations lose again, the slower the more animals live in it.
      </p>
      <p>
        Animals bring what lives with them: look for mites before, keep newcomers apart for some weeks, and
        mix what looks and breeds alike. Strangers from far apart may belong to species that only look the
        same. What is mixed cannot be parted again.
      </p>
    </WorkedOut>
  );
}

function MixForm(props: MixingPageProps) {
  const { furniture, code, form, today, objections, others } = props;
  const at = cultureHref(code);
  const number = (name: string) => ({
    label: labels[name]!,
    inputMode: 'numeric' as const,
    size: 'short' as const,
    ...fieldOf(form, name),
  });
  return (
    <section id="mix" aria-labelledby="mix-title">
      <h2 id="mix-title">Mix</h2>
      <Form furniture={furniture} action={`${at}/mixing`}>
        <ErrorSummary errors={form.errors} labels={labels} />
        <Objections
          objections={objections}
          form={form}
          isOwner={furniture.who?.role === 'owner'}
          submit="Mix all the same"
        />
        <SelectField
          label={labels.fromId!}
          empty="Choose a culture"
          options={others.map(({ id, code: other }) => ({ value: String(id), label: other }))}
          required
          {...fieldOf(form, 'fromId')}
        />
        <Field
          {...number('animals')}
          help={`They leave that culture and enter ${code}, in both diaries at once.`}
        />
        <div class="field-row">
          <Field {...number('adults')} optional />
          <Field {...number('juveniles')} optional />
        </div>
        <Field label={labels.onDay!} type="date" max={today} {...fieldOf(form, 'onDay')} />
        <TextAreaField label={labels.note!} rows={2} maxLength={3500} {...fieldOf(form, 'note')} optional />
        <Actions>
          <Button kind="main">Mix</Button>
          <LinkButton href={at}>Leave</LinkButton>
        </Actions>
      </Form>
    </section>
  );
}

function Partners(props: MixingPageProps) {
  const { code, partners, notShown, clonal, hasDiedOut, furniture } = props;
  if (clonal || hasDiedOut) return null;
  if (partners.length === 0)
    return <p>No other culture here would raise what it keeps: all are as near kin to it as it is inbred.</p>;
  return (
    <>
      <PartnerTable code={code} partners={partners} locale={furniture.locale} />
      {notShown > 0 && <p class="quiet">{formatCount(notShown, 'culture')} more would do less.</p>}
    </>
  );
}

export function MixingPage(props: MixingPageProps) {
  const { furniture, code, others, hasDiedOut } = props;
  const at = cultureHref(code);
  return (
    <Shell
      furniture={furniture}
      title={`Strengthen ${code}`}
      heading={<CultureHeading code={code}>Strengthen</CultureHeading>}
      purpose={
        <>
          Animals of which other culture of <Latin>{props.scientificName}</Latin> would do it good.
        </>
      }
      width="wide"
      breadcrumbs={[
        { href: '/cultures', label: 'Cultures' },
        { href: at, label: code },
      ]}
    >
      <p class="verdict">
        {props.clonal ? verdict(props) : <Computed of="kinship">{verdict(props)}</Computed>}
      </p>
      <Trouble {...props} />
      <Partners {...props} />
      <Apart {...props} />
      {!props.clonal && <How {...props} />}
      {others.length > 0 && !hasDiedOut && <MixForm {...props} />}
    </Shell>
  );
}
