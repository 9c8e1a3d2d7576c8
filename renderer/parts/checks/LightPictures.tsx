import { FlashPictures } from './FlashPictures.tsx'
import type { PictureProps } from './picture-props.ts'
import { TypePictures } from './TypePictures.tsx'

/** What the light does: to type, and to each panel. */
export function LightPictures(props: PictureProps) {
  return (
    <>
      <TypePictures {...props} />
      <FlashPictures {...props} />
    </>
  )
}
