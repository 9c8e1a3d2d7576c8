import { type CompositeOptions, compositeStrips, type Surface } from './composite.ts'
import { type ArtFile, processCount } from './layer.ts'

/** Of one file, 0..1 floats: a carton of 4000 × 3000 px in CMYK. Larger ones are composited again by who reads them. */
const mostBytes = 256 * 2 ** 20

type Picture = readonly Surface[]

const held = new WeakMap<ArtFile, Map<string, Picture>>()

/**
 * While a file's pictures are held, the same layers of it are composited once for all that read them by
 * {@link heldStrips}. Call what is returned to let go of them.
 */
export function holdPictures(file: ArtFile): () => void {
  held.set(file, new Map())
  return () => held.delete(file)
}

/** {@link compositeStrips} of the whole document and these layers. The surfaces are not to be changed. */
export async function* heldStrips(
  file: ArtFile,
  layers: ReadonlySet<string>,
  options: Pick<CompositeOptions, 'stripRows' | 'keep' | 'knocking'>,
  task?: Parameters<typeof compositeStrips>[2],
): AsyncGenerator<Surface, void, undefined> {
  const pictures = held.get(file)
  const key = JSON.stringify([
    file.art.layers.filter(one => one.kind !== 'group' && layers.has(one.id)).map(one => one.id),
    [...(options.knocking ?? [])],
  ])
  const made = pictures?.get(key)
  if (made) {
    yield* made
    return
  }
  const { width, height } = file.art
  const kept: Surface[] | null = pictures && width * height * bytesPerPixel(file) <= mostBytes ? [] : null
  const strips = compositeStrips(file, { include: one => layers.has(one.id), ...options }, task)
  for await (const strip of strips) {
    kept?.push(strip)
    // Before the last one is handed out: who has it may ask for no more.
    if (kept && strip.box.bottom === height) pictures?.set(key, kept)
    yield strip
  }
}

const bytesPerPixel = ({ art }: ArtFile): number => 4 * (processCount(art.colorMode) + 1)
