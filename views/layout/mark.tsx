/** Small drawn marks that stand beside a word: a bar with a dot asks for a person, a cross warns. */
export function Mark({ kind }: { kind: 'needs-you' | 'harm' | 'done' }) {
  return (
    <svg
      class={`mark mark-${kind}`}
      viewBox="0 0 16 16"
      width="16"
      height="16"
      aria-hidden="true"
      focusable="false"
    >
      {kind === 'needs-you' && (
        <g fill="currentColor">
          <rect x="7" y="2" width="2" height="8" />
          <circle cx="8" cy="13" r="1.4" />
        </g>
      )}
      {kind === 'harm' && (
        <path d="M3 3 L13 13 M13 3 L3 13" fill="none" stroke="currentColor" stroke-width="2" />
      )}
      {kind === 'done' && (
        <path d="M2.5 8.5 L6.5 12.5 L13.5 4" fill="none" stroke="currentColor" stroke-width="2" />
      )}
    </svg>
  );
}
