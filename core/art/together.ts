import { BadInput, type Finding } from '../base/finding.ts'
import type { ByteSource } from '../base/source.ts'
import { joinedArt, joinedPpi, type SeparateLight } from './joined.ts'
import type { Art, ArtFile } from './layer.ts'
import type { PageData } from './pdf/read-page.ts'
import { makeSeparator } from './pdf/separate.ts'
import { platesAsArt } from './plates.ts'

/** One of several files of a piece of art. */
export interface Part {
  readonly source: ByteSource
  /** It holds shapes, not pixels. */
  readonly isDrawn: boolean
  /** Opens it; what is drawn takes a resolution, another than the usual where one is given. */
  readonly open: (ppi?: number) => Promise<ArtFile>
}

/**
 * Several files as one piece of art: plates as their inks, an image with drawings over it in their order.
 * @param shipped  what colours of drawings are separated by; left out: they are guessed
 * @throws BadInput where the files do not go together
 */
export async function openTogether(parts: readonly Part[], shipped: PageData | undefined): Promise<ArtFile> {
  const images: ArtFile[] = []
  for (const part of parts) if (!part.isDrawn) images.push(await part.open())
  const drawings = parts.filter(part => part.isDrawn)
  const [only, ...others] = images
  if (only === undefined)
    throw new BadInput(
      'files-together',
      drawings[0]!.source.name,
      'its files',
      'several drawings do not make one piece of art',
      'Save them as one file, or put them over an image.',
    )
  let art = others.length > 0 ? platesAsArt(images) : only
  for (const drawing of drawings) {
    const widthMm = art.art.resolutionPpi === null ? await widthOf(drawing) : 0
    const above = await drawing.open(joinedPpi(art.art, widthMm))
    art = joinedArt(art, above, await separatorFor(art.art, shipped))
  }
  return art
}

/** Finer than the usual, so that half a pixel is a hundredth of a millimetre. */
const measuringPpi = 1200

/** Width of a drawing, mm: an image that does not say how large it is, is as large as what lies over it. */
async function widthOf(drawing: Part): Promise<number> {
  const { width, resolutionPpi } = (await drawing.open(measuringPpi).catch(() => drawing.open())).art
  return (width * 25.4) / resolutionPpi!
}

/** To the image's own print condition where it names one, else to the one at hand. */
async function separatorFor(image: Art, shipped: PageData | undefined): Promise<SeparateLight | null> {
  if (image.colorMode !== 'CMYK' || shipped === undefined) return null
  const engine = await shipped.engine()
  // What is told of colours without a profile is said by the art that is joined.
  const told: Finding[] = []
  const made = (profile: Uint8Array) => makeSeparator(engine, profile, image.name, told)
  try {
    const own = image.profile === null ? null : made(image.profile.bytes)
    if (own !== null) return light => own.cmyk({ space: 'RGB', profile: null }, light)
  } catch (error) {
    // A profile that is for no press: the usual condition stands in, as it does for the image.
    if (!(error instanceof BadInput)) throw error
  }
  const usual = made(await shipped.condition())
  return light => usual.cmyk({ space: 'RGB', profile: null }, light)
}
