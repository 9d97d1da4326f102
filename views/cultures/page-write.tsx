import type { WrittenKind } from '../../shared/cultures/diary-form.ts';
import type { Objection } from '../../shared/cultures/objections.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { writtenGroups, writtenWords } from './kind-words.ts';
import { cultureHref } from './page-list.tsx';
import { AboutCulture, CultureHeading } from './part-about.tsx';
import { ChipLinks } from './part-chip-links.tsx';
import { Objections } from './part-objections.tsx';
import { type Offered, WriteFields, writeLabels } from './part-write-fields.tsx';

export type WritePageProps = {
  furniture: Furniture;
  code: string;
  scientificName: string;
  place: string | null;
  inQuarantine: boolean;
  /** The kind that was chosen; null shows only the choice. */
  kind: WrittenKind | null;
  offered: Offered;
  form: FormState;
  today: string;
  objections: Objection[];
};

/** Into quarantine goes what is out of it, and the other way round. */
const isOffered = (kind: WrittenKind, inQuarantine: boolean) =>
  kind === 'quarantine' ? !inQuarantine : kind === 'release' ? inQuarantine : true;

function Kinds({ code, kind, inQuarantine }: Pick<WritePageProps, 'code' | 'kind' | 'inQuarantine'>) {
  return (
    <>
      {writtenGroups.map((group) => (
        <section key={group.title} class="kind-group">
          {kind ? <h3>{group.title}</h3> : <h2>{group.title}</h2>}
          <ChipLinks
            label={group.title}
            links={group.kinds
              .filter((k) => isOffered(k, inQuarantine))
              .map((k) => ({
                href: `${cultureHref(code)}/write?kind=${k}`,
                label: writtenWords[k].label,
                current: k === kind,
              }))}
          />
        </section>
      ))}
    </>
  );
}

function Entry(props: WritePageProps & { kind: WrittenKind }) {
  const { furniture, code, kind, form, today, objections, offered } = props;
  const at = cultureHref(code);
  return (
    <>
      <p>{writtenWords[kind].means}</p>
      <Form furniture={furniture} action={`${at}/write`} keyPart={kind}>
        <input type="hidden" name="kind" value={kind} />
        <ErrorSummary errors={form.errors} labels={writeLabels} />
        <Objections
          objections={objections}
          form={form}
          isOwner={furniture.who?.role === 'owner'}
          submit="Write it down all the same"
        />
        <WriteFields kind={kind} form={form} offered={offered} />
        <Field label={writeLabels.onDay!} type="date" max={today} {...fieldOf(form, 'onDay')} />
        <Actions>
          <Button kind={kind === 'retirement' ? 'harm' : 'main'}>{writtenWords[kind].button}</Button>
          <LinkButton href={at}>Leave</LinkButton>
        </Actions>
      </Form>
    </>
  );
}

export function WritePage(props: WritePageProps) {
  const { furniture, code, kind, form } = props;
  const at = cultureHref(code);
  const title = kind ? writtenWords[kind].label : 'Write down';
  return (
    <Shell
      furniture={furniture}
      title={`${title}, ${code}`}
      heading={<CultureHeading code={code}>{title}</CultureHeading>}
      purpose={
        <AboutCulture scientificName={props.scientificName} place={props.place}>
          what was done or seen, into its diary.
        </AboutCulture>
      }
      breadcrumbs={[
        { href: '/cultures', label: 'Cultures' },
        { href: at, label: code },
      ]}
    >
      {kind ? <Entry {...props} kind={kind} /> : <ErrorSummary errors={form.errors} />}
      {kind && <h2>Something else</h2>}
      <Kinds {...props} />
      <p class="quiet">
        <a href={`${at}/check`}>A check</a>, <a href={`${at}/count`}>a count</a> and{' '}
        <a href={`${at}/split`}>a split</a> have pages of their own.
      </p>
    </Shell>
  );
}
