import { fieldUnitsOf } from '../../shared/settings/typed-units.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { commonPracticeWords } from '../../shared/species/defaults.ts';
import { FieldSet, type FormState } from '../layout/form.tsx';
import { More } from '../layout/worked-out.tsx';
import { Amount } from './form-names.tsx';

type FiguresProps = { form: FormState; isNew: boolean };

export function WhatStays({ form, isNew }: FiguresProps) {
  return (
    <FieldSet legend="What must stay" help={isNew ? commonPracticeWords : undefined}>
      <div class="field-row">
        <Amount form={form} name="reserveAnimals" label="At least so many animals" />
        <Amount
          form={form}
          name="reservePercent"
          label="And at least this share of the capacity"
          unit="%"
          help="Half the capacity grows fastest."
        />
        <Amount
          form={form}
          name="confidencePercent"
          label="How sure before an animal is called spare"
          unit="%"
          help="More than 50, less than 100; 90 is careful."
        />
      </div>
    </FieldSet>
  );
}

export function BeforeCounting({ form, isNew, units }: FiguresProps & { units: UnitSystem }) {
  const { density } = fieldUnitsOf(units);
  const timesHelp = 'Nine times in ten the truth lies between the figure divided by this and times this.';
  return (
    <FieldSet
      legend="Believed before counting"
      help={`Counts soon outweigh these.${isNew ? ` ${commonPracticeWords}` : ''}`}
    >
      <div class="field-row">
        <Amount form={form} name="doublingWeeks" label="Doubles in, with room to grow" unit="weeks" />
        <Amount form={form} name="growthFactor" label="Doubt of the growth" unit="times" help={timesHelp} />
      </div>
      <div class="field-row">
        <Amount
          form={form}
          name="capacity"
          label="Capacity of the substrate"
          unit={density}
          help="Very roughly 40 a litre for small species, 20 for medium, 8 for large ones: common practice."
        />
        <Amount
          form={form}
          name="capacityFactor"
          label="Doubt of the capacity"
          unit="times"
          help={timesHelp}
        />
      </div>
      <Amount
        form={form}
        name="processPercent"
        label="Ups and downs nothing explains"
        unit="% a week"
        help="How far a culture strays in a week from what growth alone would make of it."
      />
      <div class="field-row">
        <Amount form={form} name="detectionOf" label="Of so many animals" />
        <Amount form={form} name="detectionShow" label="about so many show" />
      </div>
      <div class="field-row">
        <Amount form={form} name="adultOf" label="Of so many animals" />
        <Amount form={form} name="adultAre" label="about so many are adult" />
      </div>
      <More label="What do these pairs mean?">
        <p>
          “Of 20 animals about 6 show” says two things: the share that shows at a glance, and how sure that
          is. “Of 200 about 60” is the same share, known ten times better.
        </p>
      </More>
    </FieldSet>
  );
}

export function Rhythm({ form, isNew }: FiguresProps) {
  return (
    <FieldSet legend="Rhythm and generations" help={isNew ? commonPracticeWords : undefined}>
      <div class="field-row">
        <Amount form={form} name="checkEveryDays" label="A look every" unit="days" />
        <Amount form={form} name="feedEveryDays" label="Food every" unit="days" />
        <Amount
          form={form}
          name="substrateMonths"
          label="Substrate renewed every"
          unit="months"
          help="Left empty: never. Old substrate then stays until the culture ends."
        />
        <Amount form={form} name="generationDays" label="From egg to breeding" unit="days" />
        <Amount
          form={form}
          name="effectivePercent"
          label="Animals that pass on their genes"
          unit="%"
          help="For inbreeding: a few breed much, many not at all. Half is a usual guess."
        />
      </div>
    </FieldSet>
  );
}

export function Limits({ form, isNew, units }: FiguresProps & { units: UnitSystem }) {
  const { temp } = fieldUnitsOf(units);
  const limit = (name: string, label: string) => <Amount form={form} name={name} label={label} unit={temp} />;
  return (
    <FieldSet
      legend="Temperature limits"
      help={`From cold to warm. A parcel is not cleared outside the safe ones.${isNew ? ` ${commonPracticeWords}` : ''}`}
    >
      <div class="field-row">
        {limit('lethalLow', 'Deadly below')}
        {limit('safeLow', 'Safe from')}
        {limit('idealLow', 'Best from')}
      </div>
      <div class="field-row">
        {limit('idealHigh', 'Best up to')}
        {limit('safeHigh', 'Safe up to')}
        {limit('lethalHigh', 'Deadly above')}
      </div>
    </FieldSet>
  );
}
