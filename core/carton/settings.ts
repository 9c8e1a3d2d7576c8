import { BadInput } from '../base/finding.ts'

/** What defaults follow, mm: the caliper, and the body from crease to crease. */
export interface Sizes {
  readonly caliperMm: number
  /** Between the creases of the first panel, of the second one, and along the body. */
  readonly lengthMm: number
  readonly widthMm: number
  readonly heightMm: number
}

/** An allowance of a carton: a number that a plant may have a view of its own about. */
export interface Setting {
  readonly name: string
  /** One line of what it does. */
  readonly says: string
  readonly unit: 'mm' | '°'
  /** Where nobody sets it. */
  usual(sizes: Sizes): number
  /** Least and greatest that is taken. What a size has no room for is refused where it is drawn. */
  readonly range: readonly [least: number, most: number]
  readonly status: 'derived' | 'common practice' | 'proposed'
  readonly source: string
}

const caliper = 'follows from the thickness of the board'
const practice = 'common practice, no source'

export const settings = {
  glueMm: {
    name: 'Glue flap',
    says: 'width of the flap that closes the body',
    unit: 'mm',
    usual: ({ widthMm, caliperMm }) => clamp(widthMm - 3 * caliperMm - 1, 5, 15),
    range: [4, 60],
    status: 'common practice',
    source: 'common practice, no source: 11.5 to 19 mm; less than 8 mm holds poorly on fast gluers',
  },
  glueTaperDeg: {
    name: 'Glue flap taper',
    says: 'how far its ends lean to clear the flaps beside it',
    unit: '°',
    usual: () => 15,
    range: [0, 45],
    status: 'common practice',
    source: practice,
  },
  glueMarginMm: {
    name: 'Glue margin',
    says: 'bare board between a glue zone and the edge it must not run over',
    unit: 'mm',
    usual: () => 1.5,
    range: [0, 10],
    status: 'proposed',
    source: 'no source',
  },
  lastShortMm: {
    name: 'Last panel short by',
    says: 'so that its cut edge misses the crease of the glue flap',
    unit: 'mm',
    usual: ({ caliperMm }) => caliperMm,
    range: [0, 2],
    status: 'derived',
    source: `${caliper}: one caliper keeps the corner closed; plants take 0.5 to 0.8 mm`,
  },
  easeMm: {
    name: 'Ease',
    says: 'air between leaves that slide past each other',
    unit: 'mm',
    usual: ({ caliperMm }) => caliperMm / 4,
    range: [0.02, 2],
    status: 'proposed',
    source: 'a quarter of the caliper, no source',
  },
  lidInsetMm: {
    name: 'Lid inset',
    says: 'how far lids and outer flaps stay inside their panel, each side',
    unit: 'mm',
    usual: ({ caliperMm }) => caliperMm / 2,
    range: [0, 3],
    status: 'derived',
    source: `${caliper}: half a caliper keeps the corners closed; plants take about 0.5 mm`,
  },
  tuckMm: {
    name: 'Tuck',
    says: 'depth of the tongue that slides in',
    unit: 'mm',
    usual: ({ widthMm, heightMm }) => Math.min(clamp(widthMm / 3, 12.5, 18), 0.6 * widthMm, 0.4 * heightMm),
    range: [3, 80],
    status: 'common practice',
    source: 'common practice, no source: 12.5 to 18 mm, less on small cartons',
  },
  tuckRadiusMm: {
    name: 'Tuck corner',
    says: 'radius of the tongue’s corners',
    unit: 'mm',
    usual: ({ widthMm, heightMm }) => Math.min(8, 0.25 * widthMm, 0.2 * heightMm),
    range: [0, 40],
    status: 'common practice',
    source: 'common practice, no source: about half the tuck, 12 mm at most',
  },
  tuckInsetMm: {
    name: 'Tuck inset',
    says: 'air between the tongue and the wall beside it, each side',
    unit: 'mm',
    usual: () => 0.5,
    range: [0.1, 5],
    status: 'common practice',
    source: practice,
  },
  dustMm: {
    name: 'Dust flap',
    says: 'depth of the flaps under a lid',
    unit: 'mm',
    usual: ({ lengthMm, widthMm, caliperMm }) => Math.min(0.6 * widthMm + 6, lengthMm / 2 - caliperMm),
    range: [3, 300],
    status: 'common practice',
    source: 'common practice, no source: somewhat over half the width; two may not overlap',
  },
  dustInsetMm: {
    name: 'Dust flap inset',
    says: 'from the crease of the lid’s panel to the side of the dust flap',
    unit: 'mm',
    usual: ({ caliperMm }) => Math.max(0.75, 0.75 * caliperMm),
    range: [0.2, 5],
    status: 'common practice',
    source: 'common practice, no source: 0.75 to 1 mm',
  },
  dustShoulderMm: {
    name: 'Dust flap shoulder',
    says: 'how far its side runs straight before the taper',
    unit: 'mm',
    usual: ({ widthMm }) => Math.min(6, 0.15 * widthMm),
    range: [0, 20],
    status: 'common practice',
    source: 'common practice, no source: about 6 mm',
  },
  dustTaperDeg: {
    name: 'Dust flap taper',
    says: 'how far its side leans from the shoulder on',
    unit: '°',
    usual: () => 15,
    range: [0, 40],
    status: 'common practice',
    source: practice,
  },
  sealInnerMm: {
    name: 'Inner seal flap',
    says: 'depth of the flap that glue is put on',
    unit: 'mm',
    usual: ({ widthMm, caliperMm }) => widthMm - 1.5 * caliperMm,
    range: [5, 300],
    status: 'derived',
    source: `${caliper}: as deep as the width lets it be, so that the flaps overlap fully`,
  },
  sealEdgeMm: {
    name: 'Seal edge',
    says: 'from the edge of the outer seal flap to the crease it covers',
    unit: 'mm',
    usual: ({ caliperMm }) => caliperMm / 2,
    range: [0, 3],
    status: 'derived',
    source: `${caliper}; plants take up to 1 mm`,
  },
  lockTongueMm: {
    name: 'Lock tongue',
    says: 'width of the tongue of a snap-lock bottom',
    unit: 'mm',
    usual: ({ lengthMm }) => Math.max(5, 0.45 * (lengthMm - 6)),
    range: [5, 300],
    status: 'common practice',
    source: 'common practice, no source: a third to a half of the length',
  },
  lockReachMm: {
    name: 'Lock reach',
    says: 'how far the tongue of a snap-lock bottom goes past the edge that holds it',
    unit: 'mm',
    usual: ({ widthMm }) => clamp(0.25 * widthMm, 3, 15),
    range: [2, 60],
    status: 'common practice',
    source: 'common practice, no source: about a quarter of the width',
  },
  crashOverlapMm: {
    name: 'Crash-lock overlap',
    says: 'how far each main flap of a crash-lock bottom goes past the middle',
    unit: 'mm',
    usual: ({ widthMm, caliperMm }) =>
      Math.min(Math.max(9, 16 * caliperMm), Math.max(0.175 * widthMm, 5 * caliperMm)),
    range: [1, 40],
    status: 'common practice',
    source: 'common practice, no source: 8 to 10 mm, less on narrow cartons, more on thick board',
  },
  crashDraftMm: {
    name: 'Crash-lock draft',
    says: 'how far the sides of a crash-lock flap lean in',
    unit: 'mm',
    usual: ({ widthMm }) => clamp(0.06 * widthMm, 1.5, 10),
    range: [0.5, 20],
    status: 'common practice',
    source: 'common practice, no source: 2.5 to 10 mm by the width',
  },
  slackMm: {
    name: 'Slack',
    says: 'added to an inside length and width, so that what goes in slides',
    unit: 'mm',
    usual: () => 0,
    range: [0, 5],
    status: 'common practice',
    source: 'common practice, no source: 0.5 to 1 mm for a sleeve over its tray; 0 where the size has it',
  },
  bleedMm: {
    name: 'Bleed',
    says: 'how far art reaches over the cut',
    unit: 'mm',
    usual: () => 3,
    range: [0, 20],
    status: 'common practice',
    source: practice,
  },
} satisfies Readonly<Record<string, Setting>>

export type SettingKey = keyof typeof settings
export type Allowances = Readonly<Record<SettingKey, number>>

export const settingKeys = Object.keys(settings) as readonly SettingKey[]

/** Every allowance of a size: what was set, and the usual for the rest. Throws BadInput for one out of its range. */
export function allowances(sizes: Sizes, own: Partial<Allowances>): Allowances {
  const entries = settingKeys.map(key => {
    const { name, unit, range, usual }: Setting = settings[key]
    const set = own[key]
    if (set === undefined) return [key, usual(sizes)] as const
    if (Number.isFinite(set) && set >= range[0] && set <= range[1]) return [key, set] as const
    throw new BadInput(
      'carton-setting',
      'carton',
      name.toLowerCase(),
      `expected ${range[0]} to ${range[1]} ${unit}, got ${set}`,
      'Leave it out to have the usual one.',
    )
  })
  return Object.fromEntries(entries) as Record<SettingKey, number>
}

function clamp(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, value))
}
