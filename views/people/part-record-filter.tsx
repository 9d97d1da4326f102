import { FilterBar } from '../layout/filter-bar.tsx';
import { Field, SelectField } from '../layout/form.tsx';
import { formatDay } from '../layout/format.ts';

export type RecordFilterProps = {
  action: string;
  label: string;
  /** What else than a person may have done it. */
  nobody?: { value: string; label: string };
  people: readonly { id: string; name: string }[];
  asked: { who: string; subject: string; from: string; until: string };
};

/** Who, what and when, for the lists of what was changed and of what was read. */
export function RecordFilter({ action, label, nobody, people, asked }: RecordFilterProps) {
  const chosen = [
    asked.who === nobody?.value ? nobody.label : people.find(({ id }) => id === asked.who)?.name,
    asked.subject,
    asked.from && `from ${formatDay(asked.from)}`,
    asked.until && `until ${formatDay(asked.until)}`,
  ];
  return (
    <FilterBar action={action} label={label} chosen={chosen}>
      <SelectField
        label="Who"
        name="who"
        value={asked.who}
        options={[
          { value: '', label: 'Everybody' },
          ...people.map(({ id, name }) => ({ value: id, label: name })),
          ...(nobody ? [nobody] : []),
        ]}
      />
      <Field label="What" name="subject" value={asked.subject} maxLength={100} size="normal" />
      <Field label="From" name="from" type="date" value={asked.from} size="short" />
      <Field label="Until" name="until" type="date" value={asked.until} size="short" />
    </FilterBar>
  );
}
