import { composite } from '../core/art/composite.ts'
import type { ArtFile } from '../core/art/layer.ts'
import { BadInput } from '../core/base/finding.ts'
import { checkCancelled, type Task } from '../core/base/task.ts'
import type { ArtPages } from '../core/host/art.ts'
import type { Picture } from '../core/host/picture.ts'
import { type Rgb, rgbReader } from '../core/roles/tone.ts'
import { openArt, type PlacedArt } from './placed-art.ts'

/** Pages that get a picture: a carton's file has a few, and each is read whole. */
const mostPages = 24
/** Pixels on an inch of such a picture before it is made smaller: enough for a page of any size. */
const picturePpi = 36

type Page = ArtPages['pages'][number]

/** Small pictures of the pages of a file. @param size longest side, pixels */
export async function pagePictures(art: PlacedArt, size: number, task?: Task): Promise<ArtPages> {
  const pages: Page[] = []
  // How far a page is is not how far all of them are.
  const stoppable: Task = task?.signal ? { signal: task.signal } : {}
  let count = 1
  for (let number = 1; number <= Math.min(count, mostPages); number++) {
    checkCancelled(task)
    task?.progress?.((number - 1) / Math.min(count, mostPages), 'looking at the pages')
    try {
      const { file, close } = await openArt(art, { page: number, ppi: picturePpi }, stoppable)
      try {
        count = file.art.page?.count ?? 1
        pages.push({ number, ...sizeOf(file), picture: await pictureOf(file, size, stoppable) })
      } finally {
        await close()
      }
    } catch (error) {
      // One page that cannot be read keeps nobody from the others; a file that cannot be opened does.
      if (!(error instanceof BadInput) || number === 1) throw error
      pages.push({ number, widthMm: 0, heightMm: 0, picture: null })
    }
  }
  task?.progress?.(1, 'looking at the pages')
  return { count, pages }
}

function sizeOf({ art }: ArtFile): Pick<Page, 'widthMm' | 'heightMm'> {
  const [left, bottom, right, top] = art.page?.trim ?? [
    0,
    0,
    (art.width / picturePpi) * 25.4,
    (art.height / picturePpi) * 25.4,
  ]
  return { widthMm: right - left, heightMm: top - bottom }
}

/** The page on white paper in its process inks, plain and without a profile; spot inks are not shown. */
async function pictureOf(file: ArtFile, size: number, task: Task): Promise<Picture> {
  const surface = await composite(file, {}, task)
  const { width: fullWidth, height: fullHeight } = file.art
  const scale = Math.min(1, size / Math.max(fullWidth, fullHeight))
  const [width, height] = [fullWidth, fullHeight].map(side => Math.max(1, Math.round(side * scale))) as [
    number,
    number,
  ]
  const read = rgbReader(file.art)
  const colour: Rgb = [0, 0, 0]
  const sums = new Float64Array(3 * width * height)
  const counts = new Uint32Array(width * height)
  for (let y = 0, i = 0; y < fullHeight; y++)
    for (let x = 0; x < fullWidth; x++, i++) {
      const to = Math.floor((y * height) / fullHeight) * width + Math.floor((x * width) / fullWidth)
      const alpha = surface.alpha[i]!
      read(surface, i, colour)
      counts[to]!++
      for (let c = 0; c < 3; c++) sums[3 * to + c]! += 1 - alpha * (1 - colour[c]!)
    }
  const rgba = new Uint8Array(4 * width * height)
  for (let to = 0; to < counts.length; to++) {
    for (let c = 0; c < 3; c++) rgba[4 * to + c] = Math.round((255 * sums[3 * to + c]!) / counts[to]!)
    rgba[4 * to + 3] = 255
  }
  return { width, height, rgba }
}
