import type { ComponentType } from 'react'
import type { ProofsSection } from '../../state/state.ts'
import { NotesSection } from './NotesSection.tsx'
import type { SectionProps } from './props.ts'
import { SendSection } from './SendSection.tsx'
import { SignSection } from './SignSection.tsx'
import { VersionsSection } from './VersionsSection.tsx'

/** The parts of the sheet of proofs. */
export const sections: Readonly<Record<ProofsSection, ComponentType<SectionProps>>> = {
  send: SendSection,
  versions: VersionsSection,
  notes: NotesSection,
  signoff: SignSection,
}
