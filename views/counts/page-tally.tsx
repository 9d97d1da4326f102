import type { TallyMethod } from '../../shared/counts/tally-form.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { CultureHeading } from '../cultures/part-about.tsx';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf, TextAreaField } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { methodWords } from './method-words.ts';
import { countLabels } from './part-method-fields.tsx';
import { TallyField } from './part-tally-field.tsx';

export type TallyPageProps = {
  furniture: Furniture;
  code: string;
  scientificName: string;
  cautions: string;
  method: TallyMethod;
  form: FormState;
  today: string;
};

const labels = { ...countLabels, adults: 'Adults', juveniles: 'Juveniles' };

/** Counting by taps: big keys, numbers that survive a reload, and plain fields where there is no script. */
export function TallyPage({ furniture, code, method, form, today, ...props }: TallyPageProps) {
  const at = cultureHref(code);
  return (
    <Shell
      furniture={furniture}
      title={`Tally ${code}`}
      heading={<CultureHeading code={code}>Tally</CultureHeading>}
      purpose={
        <>
          <Latin>{props.scientificName}</Latin>, {methodWords[method].label.toLowerCase()}: count by taps,
          without looking at the phone.
        </>
      }
      breadcrumbs={[
        { href: '/cultures', label: 'Cultures' },
        { href: at, label: code },
        { href: `${at}/count?method=${method}`, label: 'Count' },
      ]}
    >
      {props.cautions && <Notice tone="needs-you">{props.cautions}</Notice>}
      <Form furniture={furniture} action={`${at}/tally`} keyPart={method} id="tally-form">
        <input type="hidden" name="method" value={method} />
        <ErrorSummary errors={form.errors} labels={labels} />
        <div class="tallies" data-tally-kept={`tally ${code} ${method}`}>
          <TallyField form={form} name="adults" label="Adults" what="adult" />
          <TallyField form={form} name="juveniles" label="Juveniles" what="juvenile" />
        </div>
        <p class="tally-sum" data-tally-sum aria-live="polite" />
        {method === 'sample' && (
          <Field
            label="Part searched"
            size="short"
            help="As a percentage or in parts: 20 % or 1 of 5."
            {...fieldOf(form, 'fraction')}
            required
          />
        )}
        <Field label="Day" type="date" max={today} {...fieldOf(form, 'onDay')} />
        <TextAreaField label="Note" rows={2} maxLength={3400} {...fieldOf(form, 'note')} optional />
        <Actions>
          <Button kind="main">Write it down</Button>
          <LinkButton href={`${at}/count?method=${method}`}>Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
