import type { Limit } from '../limits.ts'

const mm = (rest: Omit<Limit, 'unit' | 'range'>): Limit => ({ unit: 'mm', range: [0, 10], ...rest })

/** How far two groups may lie apart, and from when on that is seen. Keys of {@link pairTolerances} are pairs. */
export const registerLimits = {
  'register.holography-white': mm({
    name: 'Holography to white',
    says: 'how far the white may lie beside the holography, either way',
    usual: 0.5,
    status: 'memory',
    source:
      'registered lamination and sheeting ±0.5 mm, good 0.25 to 0.3; the converter’s own number goes before',
  }),
  'register.holography-colour': mm({
    name: 'Holography to colour',
    says: 'how far the inks may lie beside the holography, either way',
    usual: 0.5,
    status: 'memory',
    source:
      'registered lamination and sheeting ±0.5 mm, good 0.25 to 0.3; the converter’s own number goes before',
  }),
  'register.colour-white': mm({
    name: 'White to colour',
    says: 'how far the white may lie beside the inks, either way',
    usual: 0.396,
    status: 'trade',
    source: 'a carton plant’s sheetfed register, 0.0156 in, ink to ink',
  }),
  'register.die-colour': mm({
    name: 'Colour to die',
    says: 'how far the cut may lie beside the inks, either way',
    usual: 0.794,
    status: 'trade',
    source: 'a carton plant’s print to cut, 1/32 in guaranteed; a good flat bed holds 0.25 mm',
  }),
  'register.die-white': mm({
    name: 'White to die',
    says: 'how far the cut may lie beside the white, either way',
    usual: 0.794,
    status: 'trade',
    source: 'a carton plant’s print to cut, 1/32 in guaranteed; a good flat bed holds 0.25 mm',
  }),
  'register.die-holography': mm({
    name: 'Holography to die',
    says: 'how far the cut may lie beside the holography, either way',
    usual: 0.94,
    status: 'proposed',
    source: 'root of the summed squares of holography to print, 0.5 mm, and print to cut, 0.794 mm',
  }),
  'register.turn': {
    name: 'Turn',
    says: 'how far two groups may be turned against each other',
    unit: '°',
    usual: 0.02,
    range: [0, 2],
    status: 'proposed',
    source: 'starting value of this program: 0.05 mm at 150 mm from the middle',
  },
  'register.stretch': {
    name: 'Stretch',
    says: 'by how much of its length one group may be longer than another',
    unit: '%',
    usual: 0.06,
    range: [0, 5],
    status: 'proposed',
    source: 'starting value of this program: what is left inside a station of a sheet that grew by 0.06 %',
  },
  'register.trap': mm({
    name: 'Trap of the plant',
    says: 'least overlap that the plant lays where two groups meet',
    usual: 0.127,
    status: 'trade',
    source: 'a carton plant’s trap, 0.005 in',
  }),
  'register.visible': mm({
    name: 'Misfit that is noticed',
    says: 'slivers narrower than this are not seen',
    usual: 0.2,
    status: 'trade',
    source: 'makers of embossing tools: misfit is noticed from about 0.2 mm, 2 minutes of arc at 350 mm',
  }),
  'register.failing': mm({
    name: 'Misfit that fails',
    says: 'a sliver that is wider than this in one carton of twenty is not sold',
    usual: 0.6,
    status: 'proposed',
    source: 'starting value of this program: three times what is noticed',
  }),
} as const satisfies Readonly<Record<string, Limit>>
