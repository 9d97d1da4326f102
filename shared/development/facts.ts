/** Reference facts of one springtail, for a check of what a stage of it comes to. */
export const folsomiaCandida = {
  adultDaysAt20C: [21, 24],
  eggHatchDaysAt20C: [7, 10],
  noHatchAboveC: 28,
  source: 'Fountain and Hopkin (2005), Annu. Rev. Entomol. 50:201-222, as quoted in secondary texts',
} as const;
