import type { CheckFinding, CheckName } from '../../../core/checks/finding.ts'
import { checkNames } from '../../../core/checks/finding.ts'
import type { ChecksSection } from '../../state/state.ts'

/** What each check is called, and what it looks at. */
export const checkWords: Readonly<Record<CheckName, { readonly title: string; readonly says: string }>> = {
  legibility: {
    title: 'Legibility',
    says: 'Whether type can be read at every tilt and turn, and is not too small or too fine for what lies under it.',
  },
  codes: {
    title: 'Codes',
    says: 'Whether a scanner finds, reads and grades each bar code on white or on foil.',
  },
  register: {
    title: 'Register',
    says: 'What shows where holography, white, colour and die do not lie on each other as drawn.',
  },
  white: {
    title: 'White',
    says: 'Where brand colours and codes have too little white, and how far the metal changes a colour.',
  },
  glare: {
    title: 'Glare',
    says: 'Where and at which tilt the carton dazzles, goes dark, or looks best.',
  },
  accounting: {
    title: 'Account',
    says: 'How much holography is seen, hidden, under flaps, or cut away.',
  },
  preflight: {
    title: 'File',
    says: 'Bleed, safe zone, resolution, fine lines, tints, total ink, glue, plates and names.',
  },
}

export const severityWords = {
  error: 'Must be put right',
  warning: 'Look at this',
  note: 'Good to know',
} as const satisfies Record<CheckFinding['severity'], string>

export const sectionWords: Readonly<Record<ChecksSection, string>> = {
  list: 'Found',
  register: 'Register',
  light: 'Light',
  white: 'White',
  account: 'Account',
  marks: 'Marks',
  limits: 'Limits',
}

/** In the order of a list. */
export const inOrder = <T>(
  of: Readonly<Partial<Record<CheckName, T>>>,
): readonly (readonly [CheckName, T])[] =>
  checkNames.flatMap(name => {
    const one = of[name]
    return one === undefined ? [] : [[name, one] as const]
  })
