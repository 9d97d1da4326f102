import { CheckField, checkOf, Field, type FormState, fieldOf, SelectField } from '../layout/form.tsx';

type Named = { code: string; name: string };

/** What the fields about contacts offer. */
export type ContactChoices = {
  /** The culture that this person worked at just before today. */
  before: string | null;
  feeders: readonly Named[];
  /** All other cultures; null when they are too many for a list, and the code is written instead. */
  others: readonly Named[] | null;
};

type Props = { form: FormState; choices: ContactChoices };

export const contactLabels: Record<string, string> = {
  feederFrom: 'Feeders from',
  tools: 'Tools',
  toolsFrom: 'Used before at',
};

const option = ({ code, name }: Named) => ({ value: code, label: `${code}, ${name}` });

/** Which culture the food came from, where it lived in one. */
export function FeederField({ form, choices: { feeders, others } }: Props) {
  const field = { label: contactLabels.feederFrom!, ...fieldOf(form, 'feederFrom') };
  if (others === null)
    return (
      <Field
        {...field}
        size="short"
        maxLength={40}
        list={feeders.map(({ code }) => code)}
        help="The code of the feeder culture, where they came from one."
        optional
      />
    );
  return (
    <SelectField
      {...field}
      empty="No culture here"
      options={[
        ...(feeders.length > 0 ? [{ group: 'Feeder cultures', options: feeders.map(option) }] : []),
        ...(others.length > 0 ? [{ group: 'Other cultures', options: others.map(option) }] : []),
      ]}
      optional
    />
  );
}

/** What was used before without being cleaned; noted for the day when something turns up. */
export function ToolsFields({ form, choices: { before, feeders, others } }: Props) {
  const label = contactLabels.toolsFrom!;
  const field = fieldOf(form, 'toolsFrom');
  const value = 'toolsFrom' in form.values ? field.value : before;
  const all = others && [...feeders, ...others].sort((a, b) => (a.code < b.code ? -1 : 1));
  const first = all?.find(({ code }) => code === before);
  return (
    <div class="contact-fields">
      <CheckField
        label="Tools not cleaned in between"
        help="It happens. Written down, it can be found again when mites or mould turn up."
        {...checkOf(form, 'tools')}
      />
      {all ? (
        <SelectField
          {...field}
          label={label}
          value={value}
          empty="Choose a culture"
          options={[
            ...(first ? [{ group: 'Just before', options: [option(first)] }] : []),
            { group: 'Other cultures', options: all.filter((one) => one !== first).map(option) },
          ]}
        />
      ) : (
        <Field
          {...field}
          label={label}
          value={value}
          size="short"
          maxLength={40}
          list={before ? [before] : undefined}
          help="Its code."
        />
      )}
    </div>
  );
}
