import { careHeadings, careHeadingWords } from '../../shared/species/columns.ts';
import { careField } from '../../shared/species/form.ts';
import { FieldSet, type FormState, fieldOf, TextAreaField } from '../layout/form.tsx';

const hints: Partial<Record<(typeof careHeadings)[number], string>> = {
  normal: 'What a beginner may see and need not worry about.',
  'not-normal': 'What a beginner may see, and what to do then.',
};

/** The words that go onto the care sheet. */
export function CareFields({ form }: { form: FormState }) {
  return (
    <FieldSet
      legend="Care text"
      help="One page for a beginner: one to four short sentences under each heading. Empty ones are left out."
    >
      <div class="care-fields">
        {careHeadings.map((heading) => (
          <TextAreaField
            key={heading}
            label={careHeadingWords[heading]}
            rows={4}
            maxLength={4000}
            help={hints[heading]}
            {...fieldOf(form, careField(heading))}
          />
        ))}
      </div>
      <TextAreaField
        label="Cautions"
        rows={5}
        maxLength={4000}
        help="One a line, what holds for this species: bites, stings, hairs, escapes, rules. Never to release them, washing hands and asking the authority stand on every sheet anyway."
        {...fieldOf(form, 'cautions')}
      />
    </FieldSet>
  );
}
