import type { ComponentType } from 'react'
import type { ChecksSection } from '../../state/state.ts'
import { late } from '../late.tsx'
import type { PictureProps } from './picture-props.ts'

/** Pictures of each section, each brought when its section is first opened. */
export const pictures: Readonly<Partial<Record<ChecksSection, ComponentType<PictureProps>>>> = {
  register: late(async () => (await import('./RegisterPictures.tsx')).RegisterPictures),
  light: late(async () => (await import('./LightPictures.tsx')).LightPictures),
  white: late(async () => (await import('./WhitePictures.tsx')).WhitePictures),
  account: late(async () => (await import('./AccountPictures.tsx')).AccountPictures),
}
