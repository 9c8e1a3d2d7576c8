import { FlashPictures } from './FlashPictures.tsx'
import { FramePictures } from './FramePictures.tsx'
import { HeatPictures } from './HeatPictures.tsx'
import type { PictureProps } from './picture-props.ts'
import { TypePictures } from './TypePictures.tsx'

/** What the light does: to type, to the carton and its areas, and to each panel. */
export function LightPictures(props: PictureProps) {
  return (
    <>
      <TypePictures {...props} />
      <FramePictures {...props} />
      <HeatPictures {...props} />
      <FlashPictures {...props} />
    </>
  )
}
