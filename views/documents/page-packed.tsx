import { packingFieldWords } from '../../shared/documents/packing-form.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import {
  ErrorSummary,
  Field,
  Form,
  type FormState,
  fieldOf,
  SelectField,
  TextAreaField,
} from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';

export type PackedPageProps = {
  furniture: Furniture;
  form: FormState;
  title: string;
  action: string;
  cups: { value: string; label: string }[];
  /** What holds where a field is left empty, in words. */
  otherwise: { cup: string; perCup: string; ventilation: string; padding: string };
  /** Species weigh something; groups do not. */
  asksMass: boolean;
};

const words = packingFieldWords;

/** How a group of animals or a species is packed; what is left empty is asked one step further up. */
export function PackedPage({ furniture, form, title, action, cups, otherwise, asksMass }: PackedPageProps) {
  return (
    <Shell
      furniture={furniture}
      title={title}
      purpose="What the packing sheet says of its cups. What is left empty stays as it is said below the field."
      breadcrumbs={[{ href: '/cups', label: 'Cups and padding' }]}
    >
      <Form furniture={furniture} action={action}>
        <FilledFrom form={form} words={packingFieldWords} choices={{ cup: cups }} />
        <ErrorSummary errors={form.errors} labels={packingFieldWords} />
        <SelectField
          label={words.cup ?? ''}
          empty="as said below"
          options={cups}
          help={otherwise.cup}
          {...fieldOf(form, 'cup')}
          optional
        />
        <Field
          label={words.perCup ?? ''}
          inputMode="numeric"
          size="short"
          help={otherwise.perCup}
          {...fieldOf(form, 'perCup')}
          optional
        />
        {(['ventilation', 'padding'] as const).map((what) => (
          <TextAreaField
            key={what}
            label={words[what] ?? ''}
            rows={2}
            maxLength={300}
            help={otherwise[what]}
            {...fieldOf(form, what)}
            optional
          />
        ))}
        {asksMass && (
          <Field
            label={words.animalMass ?? ''}
            inputMode="decimal"
            size="short"
            unit="mg"
            help="On average; weigh fifty together. Left empty, packing sheets say that it is not known."
            {...fieldOf(form, 'animalMass')}
            optional
          />
        )}
        <Actions>
          <Button kind="main">Save</Button>
          <LinkButton href="/cups">Leave</LinkButton>
        </Actions>
      </Form>
      <WorkedOut of={asksMass ? ['cups', 'weight'] : 'cups'} label="What becomes of it" />
    </Shell>
  );
}
