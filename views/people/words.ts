export const roleWords = { owner: 'Owner', helper: 'Helper' } as const;

export const roleChoices = [
  {
    value: 'helper',
    label: 'Helper',
    help: 'does the round, checks, counts, splits and packs',
  },
  {
    value: 'owner',
    label: 'Owner',
    help: 'all that, and species, customers, people and settings',
  },
] as const;
