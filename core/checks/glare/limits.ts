import type { Limit } from '../limits.ts'

export const glareLimits = {
  'glare-luminance': {
    name: 'Light of an area from which it dazzles',
    says: 'Mean luminance of an area over that of paper white under the same lamps. Print on it is hard to read then.',
    unit: '× paper white',
    usual: 10,
    range: [1, 10_000],
    status: 'proposed',
    source:
      'starting value of this program: a lamp seen in foil is 10 to several thousand times as bright as paper',
  },
  'dark-luminance': {
    name: 'Light of an area below which it looks black',
    says: 'Mean luminance of an area over that of paper white under the same lamps.',
    unit: '× paper white',
    usual: 0.03,
    range: [0, 0.5],
    status: 'proposed',
    source: 'starting value of this program: a solid black on paper is about 0.02 to 0.03',
  },
} as const satisfies Readonly<Record<string, Limit>>
