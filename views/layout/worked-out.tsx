import type { ComponentChildren } from 'preact';

/** Where a number comes from, for whoever asks. */
export function WorkedOut(props: { label?: string; open?: boolean; children: ComponentChildren }) {
  return (
    <details class="worked-out" open={props.open}>
      <summary>{props.label ?? 'How is this worked out?'}</summary>
      <div class="worked-out-words">{props.children}</div>
    </details>
  );
}
