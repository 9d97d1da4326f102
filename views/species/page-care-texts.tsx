import { type Language, languageNames, languages } from '../../shared/settings/languages.ts';
import { careTextWords } from '../../shared/species/care-form.ts';
import { type CareText, careHeadings, careHeadingWords } from '../../shared/species/columns.ts';
import { careField } from '../../shared/species/form.ts';
import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import {
  ErrorSummary,
  Field,
  FieldSet,
  Form,
  type FormState,
  fieldOf,
  TextAreaField,
} from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';

export type CareTextsPageProps = {
  furniture: Furniture;
  species: { id: number; scientificName: string; commonName: string };
  language: Language;
  /** Languages that something is written in. */
  written: readonly Language[];
  form: FormState;
  /** What stands in for what is missing. */
  english: { commonName: string; text: CareText; cautions: string };
  /** The words of the drawing and the recipe; none in English. */
  /** What the name usually is in this language; null when that is not known. */
  usualName: string | null;
  terms: readonly {
    english: string;
    name: string;
    englishName: string;
    words: string;
    usual: string | null;
  }[];
  versions: readonly CareVersionRow[];
};

export type CareVersionRow = {
  id: number;
  by: string | null;
  when: string;
  inUse: boolean;
  againOf: number | null;
};

function Languages({ species, language, written }: CareTextsPageProps) {
  return (
    <nav class="language-tabs" aria-label="Languages of the care text">
      <ul>
        {languages.map((each) => (
          <li key={each}>
            <a
              href={`/species/${species.id}/care?language=${each}`}
              aria-current={each === language ? 'page' : undefined}
            >
              {languageNames[each]}
              {!written.includes(each) && <span class="quiet"> no text yet</span>}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
}

/** What stands in English beside what is to be written. */
function Standing({ text }: { text: string }) {
  if (text === '') return null;
  return (
    <details class="standing-text">
      <summary>English text</summary>
      {text.split('\n').map((line) => (
        <p key={line}>{line}</p>
      ))}
    </details>
  );
}

const usualHelp = (usual: string | null) => (usual === null ? undefined : `Left empty: ${usual}`);

function nameHelp(english: string, usual: string | null): string | undefined {
  if (english === '') return undefined;
  return usual === null ? `In English: ${english}` : `In English: ${english}. ${usualHelp(usual)}`;
}

function TextFields({ form, language, english, usualName }: CareTextsPageProps) {
  const beside = (text: string) => language !== 'en' && <Standing text={text} />;
  return (
    <>
      {language !== 'en' && (
        <Field
          label="Common name"
          maxLength={120}
          optional
          help={nameHelp(english.commonName, usualName)}
          {...fieldOf(form, 'commonName')}
        />
      )}
      <FieldSet
        legend="Care text"
        help="One page for a beginner: one to four short sentences under each heading. What is left empty stands in English, if it is written there."
      >
        <div class="care-fields">
          {careHeadings.map((heading) => (
            <div key={heading}>
              <TextAreaField
                label={careHeadingWords[heading]}
                rows={4}
                maxLength={4000}
                {...fieldOf(form, careField(heading))}
              />
              {beside(english.text[heading])}
            </div>
          ))}
        </div>
        <TextAreaField
          label="Cautions"
          rows={4}
          maxLength={4000}
          help="One a line. Those that hold for all animals are printed in the customer's language anyway."
          {...fieldOf(form, 'cautions')}
        />
        {beside(english.cautions)}
      </FieldSet>
    </>
  );
}

function Terms({ terms, language }: CareTextsPageProps) {
  if (terms.length === 0) return null;
  return (
    <FieldSet
      legend="Words of the drawing"
      help={`What the enclosure, its layers and their materials are called in ${languageNames[language]}. Left empty, the usual word is printed where it is known, else the English one.`}
    >
      <div class="care-fields">
        {terms.map(({ english, name, englishName, words, usual }) => (
          <div key={english}>
            <input type="hidden" name={englishName} value={english} />
            <Field
              label={english}
              name={name}
              value={words}
              maxLength={400}
              help={usualHelp(usual)}
              optional
            />
          </div>
        ))}
      </div>
    </FieldSet>
  );
}

function Versions({ furniture, species, versions, language }: CareTextsPageProps) {
  if (versions.length === 0)
    return (
      <p class="quiet">
        Nothing was saved in {languageNames[language]} yet. The first text is the first version.
      </p>
    );
  return (
    <DataTable
      caption={`Versions in ${languageNames[language]}`}
      hideCaption
      rows={versions}
      rowKey={(row) => row.id}
      columns={[
        { key: 'when', head: 'Saved', cell: (row) => row.when },
        { key: 'by', head: 'By', cell: (row) => row.by ?? 'brought along' },
        {
          key: 'what',
          head: 'Which',
          cell: (row) =>
            row.inUse ? 'in use' : row.againOf === null ? 'earlier' : 'earlier, taken up again',
        },
        {
          key: 'sheet',
          head: 'Sheet',
          cell: (row) => <a href={`/species/${species.id}/care/${row.id}/sheet.pdf`}>As a sheet (PDF)</a>,
        },
        {
          key: 'again',
          head: 'Use',
          cell: (row) =>
            row.inUse ? (
              ''
            ) : (
              <PostButton
                furniture={furniture}
                action={`/species/${species.id}/care/again`}
                label="Use again"
                keyPart={`again-${row.id}`}
                fields={{ version: String(row.id) }}
              />
            ),
        },
      ]}
    />
  );
}

/** A species' care texts, one language at a time, and every version that was saved. */
export function CareTextsPage(props: CareTextsPageProps) {
  const { furniture, species, language, written, form } = props;
  const path = `/species/${species.id}`;
  const name = languageNames[language];
  return (
    <Shell
      furniture={furniture}
      title={`Care texts of ${species.scientificName}`}
      heading={
        <>
          Care texts of <Latin>{species.scientificName}</Latin>
        </>
      }
      purpose="Customers get the care sheet in their own language."
      width="wide"
      breadcrumbs={[
        { href: '/species', label: 'Species' },
        { href: path, label: species.scientificName },
      ]}
      actions={
        <LinkButton href={`${path}/care-sheet.pdf?language=${language}`}>
          Care sheet in {name} (PDF)
        </LinkButton>
      }
    >
      <Languages {...props} />
      {language !== 'en' && !written.includes(language) && (
        <Notice tone="needs-you">
          There is no {name} text yet. Customers who read {name} get the English one under {name} headings.
        </Notice>
      )}
      <ErrorSummary errors={form.errors} labels={careTextWords} />
      <Form furniture={furniture} action={`${path}/care`}>
        <FilledFrom form={form} words={careTextWords} />
        <input type="hidden" name="language" value={language} />
        <TextFields {...props} />
        <Terms {...props} />
        <Actions>
          <Button kind="main">Save the {name} text</Button>
          <LinkButton href={path} kind="quiet">
            Do not save
          </LinkButton>
        </Actions>
      </Form>
      <h2>Versions</h2>
      <p class="quiet">
        Every text that was saved stays. An order keeps the sheets that lay in its box, whatever is written
        later.
      </p>
      <Versions {...props} />
    </Shell>
  );
}
