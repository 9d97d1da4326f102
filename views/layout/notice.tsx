import { type ComponentChildren, Fragment } from 'preact';
import { PostButton } from './button.tsx';
import { classes } from './classes.ts';
import type { FormFurniture, Furniture, Tone, UndoData } from './furniture.ts';
import { Mark } from './mark.tsx';

export type NoticeProps = {
  tone?: Tone;
  /** The word that says the tone; 'Needs you' or 'Take care' when left out, none for a plain notice. */
  word?: string;
  links?: { href: string; label: string }[];
  undo?: UndoData;
  /** Needed when there is an undo. */
  furniture?: FormFurniture;
  id?: string;
  class?: string;
  children?: ComponentChildren;
};

const words: Record<Tone, string> = { plain: '', 'needs-you': 'Needs you', harm: 'Take care' };

/** A short message in its place. Tone is said by a word and a mark, never by colour alone. */
export function Notice(props: NoticeProps) {
  const { tone = 'plain', links = [], undo, furniture, id, children } = props;
  const word = props.word ?? words[tone];
  return (
    <div id={id} class={classes('notice', `notice-${tone}`, props.class)}>
      {tone !== 'plain' && <Mark kind={tone} />}
      <div class="notice-words">
        {word !== '' && <strong class="notice-word">{word}: </strong>}
        {children}
        {links.map(({ href, label }) => (
          <Fragment key={href}>
            {' '}
            <a href={href}>{label}</a>
          </Fragment>
        ))}
      </div>
      {undo && furniture && (
        <PostButton
          furniture={furniture}
          action={undo.action}
          label={undo.label}
          fields={undo.fields}
          kind="quiet"
        />
      )}
    </div>
  );
}

/**
 * Where the page says what just happened. Always there, so that a screen reader hears what htmx puts in;
 * a fragment carries its own news with <NoticeSlot furniture={...} oob />.
 */
export function NoticeSlot({ furniture, oob = false }: { furniture: Furniture; oob?: boolean }) {
  const { notice } = furniture;
  return (
    <div id="notice" class="notice-slot" role="status" hx-swap-oob={oob ? 'true' : undefined}>
      {notice && (
        <Notice tone={notice.tone} links={notice.links} undo={notice.undo} furniture={furniture}>
          {notice.text}
        </Notice>
      )}
    </div>
  );
}

/** For ears alone: what a part that htmx puts in says for itself, and would only move if it stood in a notice too. */
export const Heard = ({ text = '', oob = false }: { text?: string; oob?: boolean }) => (
  <div id="heard" class="visually-hidden" role="status" hx-swap-oob={oob ? 'true' : undefined}>
    {text}
  </div>
);
