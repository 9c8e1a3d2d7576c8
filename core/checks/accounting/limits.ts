import type { Limit } from '../limits.ts'

const part = (rest: Pick<Limit, 'name' | 'says' | 'usual'>): Limit => ({
  unit: '%',
  range: [0, 100],
  status: 'proposed',
  source: 'starting value of this program; no trade rule is known',
  ...rest,
})

/** From when on holography counts as seen, and how much of it may be lost. */
export const accountingLimits = {
  'accounting.bare': part({
    name: 'Bare',
    says: 'holography counts as bare where at least this much of the metal’s light comes through white and inks, straight on',
    usual: 80,
  }),
  'accounting.tinted': part({
    name: 'Tinted',
    says: 'as tinted where at least this much does: a solid of one transparent ink leaves about as much',
    usual: 25,
  }),
  'accounting.half-hidden': part({
    name: 'Half hidden',
    says: 'as half hidden where at least this much does; below it as hidden',
    usual: 5,
  }),
  'accounting.hidden-share': part({
    name: 'Hidden part of a panel',
    says: 'how much of a panel’s holography may be hidden by white and inks',
    usual: 50,
  }),
  'accounting.covered-share': part({
    name: 'Part under flaps and glue',
    says: 'how much of all holography may lie where another leaf or glue covers it',
    usual: 15,
  }),
  'accounting.waste-share': part({
    name: 'Part in waste',
    says: 'how much of all holography may lie outside the cut',
    usual: 30,
  }),
  'accounting.least-area': {
    name: 'Least area',
    says: 'less holography than this on a panel is not judged',
    unit: 'cm²',
    usual: 1,
    range: [0, 1000],
    status: 'proposed',
    source: 'starting value of this program',
  },
  'accounting.cover-gap': {
    name: 'Gap of leaves that lie together',
    says: 'a leaf covers another when it lies in front of it within this distance, the carton being closed',
    unit: 'mm',
    usual: 5,
    range: [0.1, 50],
    status: 'proposed',
    source: 'starting value of this program: more than leaves of a closed end lie apart',
  },
} as const satisfies Readonly<Record<string, Limit>>
