import type { SettledCulturesMapping, SettledDiaryMapping } from '../../shared/records/mapping.ts';
import { ChoiceField, Field, type FormState, fieldOf, SelectField } from '../layout/form.tsx';
import type { FilePartProps } from './part-columns.tsx';
import { formFor, SayForm } from './part-form.tsx';
import { delimiterOptions, encodingOptions, meaningOptions } from './words.ts';

/** The file itself: what it is, its encoding, what parts the cells, where its headings stand. */
export function Format({ furniture, action, version, file, returned }: FilePartProps) {
  const { mapping } = file.reading;
  const form = formFor(returned, `file${file.number}`, {
    kind: mapping.kind,
    encoding: mapping.encoding,
    delimiter: mapping.delimiter,
    headerLine: mapping.headerLine,
  });
  return (
    <SayForm
      furniture={furniture}
      action={action}
      version={version}
      form={form}
      part="format"
      keyPart={`format${file.number}`}
      button="Read the file so"
    >
      <div class="field-row">
        <SelectField
          label="What it is"
          options={[
            { value: 'cultures', label: 'A list of cultures' },
            { value: 'diary', label: 'A diary' },
          ]}
          {...fieldOf(form, 'kind')}
        />
        <SelectField
          label="Encoding"
          options={encodingOptions}
          help="Choose another when letters look wrong."
          {...fieldOf(form, 'encoding')}
        />
        <SelectField label="Cells are parted by" options={delimiterOptions} {...fieldOf(form, 'delimiter')} />
        <Field
          label="Line of the headings"
          inputMode="numeric"
          size="short"
          help="Empty when there are none."
          {...fieldOf(form, 'headerLine')}
        />
      </div>
    </SayForm>
  );
}

function DiaryRules({ form }: { form: FormState }) {
  return (
    <>
      <div class="field-row">
        <Field
          label="Watered without an amount"
          unit="ml"
          inputMode="decimal"
          size="short"
          optional
          help="Taken for every watering that tells none."
          {...fieldOf(form, 'waterMl')}
        />
        <Field
          label="Died off without a share"
          unit="% lost"
          inputMode="decimal"
          size="short"
          optional
          help="Taken for every die-off that tells none."
          {...fieldOf(form, 'lostPercent')}
        />
      </div>
      <ChoiceField
        label="Rows that say exactly the same"
        options={[
          { value: 'keep all', label: 'Keep all', help: 'they were fed twice' },
          { value: 'keep one', label: 'Keep one', help: 'it was written twice' },
        ]}
        {...fieldOf(form, 'sameRows')}
      />
      <div class="field-row">
        <Field
          label="All rows are of the culture"
          optional
          help="Only for a file without a column for it."
          {...fieldOf(form, 'codeForAll')}
        />
        <SelectField
          label="All rows mean"
          empty="What the row says"
          optional
          help="Only for a file without a column for it."
          options={meaningOptions}
          {...fieldOf(form, 'meaningForAll')}
        />
      </div>
    </>
  );
}

const rulesOf = (mapping: SettledCulturesMapping | SettledDiaryMapping): FormState['values'] => ({
  decimalMark: mapping.decimalMark,
  dateOrder: mapping.dateOrder,
  largestColony: mapping.largestColony,
  ...(mapping.kind === 'cultures'
    ? { foundingAnimals: mapping.foundingAnimals }
    : {
        waterMl: mapping.waterMl,
        lostPercent: mapping.lostPercent,
        sameRows: mapping.sameRows,
        codeForAll: mapping.codeForAll,
        meaningForAll: mapping.meaningForAll,
      }),
});

/** What holds for all rows that do not tell it themselves. */
export function Rules({ furniture, action, version, file, returned }: FilePartProps) {
  const { mapping } = file.reading;
  const form = formFor(returned, `file${file.number}`, rulesOf(mapping));
  return (
    <SayForm
      furniture={furniture}
      action={action}
      version={version}
      form={form}
      part="rules"
      keyPart={`rules${file.number}`}
      button="Take it so"
    >
      <ChoiceField
        label="Numbers are written"
        options={[
          { value: '.', label: '1.5', help: 'with a point' },
          { value: ',', label: '1,5', help: 'with a comma' },
        ]}
        {...fieldOf(form, 'decimalMark')}
      />
      {mapping.dateOrder !== null && (
        <ChoiceField
          label="Days such as 02/03/2026 are written"
          options={[
            { value: 'dmy', label: 'Day first', help: '2 March' },
            { value: 'mdy', label: 'Month first', help: '3 February' },
          ]}
          {...fieldOf(form, 'dateOrder')}
        />
      )}
      <Field
        label="Largest colony there can be"
        unit="animals"
        inputMode="numeric"
        size="short"
        help="A larger number is taken for a slip of the finger."
        {...fieldOf(form, 'largestColony')}
      />
      {mapping.kind === 'diary' ? (
        <DiaryRules form={form} />
      ) : (
        <Field
          label="Founded without a number"
          unit="animals"
          inputMode="numeric"
          size="short"
          optional
          help="Taken for every culture that tells none."
          {...fieldOf(form, 'foundingAnimals')}
        />
      )}
    </SayForm>
  );
}
