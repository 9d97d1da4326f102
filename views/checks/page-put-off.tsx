import { inPart, roundPath } from '../../shared/checks/round-address.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { AboutCulture, CultureHeading } from '../cultures/part-about.tsx';
import { Empty } from '../layout/empty.tsx';
import { ChoiceField, ErrorSummary, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import type { OpenWork } from './part-round-row.tsx';
import { PutOffFields, putOffLabels } from './put-off-fields.tsx';
import { dueWords } from './say-round.ts';
import { sayDue } from './say-worked-out.ts';

export type PutOffPageProps = {
  furniture: Furniture;
  code: string;
  scientificName: string;
  place: string | null;
  /** The part of the round to go back to. */
  part: number | null;
  /** What is due there today. */
  open: readonly OpenWork[];
  today: string;
  form: FormState;
};

const labels = { what: 'What waits', ...putOffLabels };

function PutOffForm(props: Omit<PutOffPageProps, 'scientificName' | 'place' | 'today'>) {
  const { furniture, code, part, open, form } = props;
  const what = fieldOf(form, 'what');
  return (
    <Form furniture={furniture} action={`${cultureHref(code)}/put-off${inPart(part)}`}>
      <ErrorSummary errors={form.errors} labels={labels} />
      <ChoiceField
        label={labels.what}
        options={open.map((due) => ({
          value: due.what,
          label: dueWords[due.what] ?? due.what,
          help: due.reason,
        }))}
        {...what}
        value={what.value ?? open[0]?.what}
      />
      <PutOffFields
        form={form}
        back={roundPath(part)}
        examples="just moulted, fed yesterday by hand, lid taped until Friday"
      />
    </Form>
  );
}

/** Leaving something that is due for another day, with the reason that whoever comes next will read. */
export function PutOffPage(props: PutOffPageProps) {
  const { furniture, code, scientificName, place, part, open, form } = props;
  return (
    <Shell
      furniture={furniture}
      title={`Put off ${code}`}
      heading={<CultureHeading code={code}>Put off</CultureHeading>}
      purpose={
        <AboutCulture scientificName={scientificName} place={place}>
          work that is due waits until a day, for a reason.
        </AboutCulture>
      }
      breadcrumbs={[{ href: roundPath(part), label: 'Round' }]}
    >
      {open.length === 0 ? (
        <Empty
          title="Nothing is due here today."
          step={{ href: roundPath(part), label: 'Back to the round' }}
        />
      ) : (
        <>
          <PutOffForm furniture={furniture} code={code} part={part} open={open} form={form} />
          <WorkedOut
            of={['due', 'drying', 'development']}
            so={open.map((work) => sayDue(work, { today: props.today, locale: furniture.locale }))}
          />
        </>
      )}
    </Shell>
  );
}
