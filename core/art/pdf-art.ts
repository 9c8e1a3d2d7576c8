import type { ByteSource } from '../base/source.ts'
import { partOf, type Task } from '../base/task.ts'
import { drawnArt } from './drawn/art.ts'
import { drawnPpi } from './drawn/usual.ts'
import type { ArtFile } from './layer.ts'
import { type PageData, pagesOf, readInkPage } from './pdf/read-page.ts'
import type { ReadOptions } from './read-options.ts'

/** Opens a page of a PDF. Throws BadInput as its reader does. */
export async function openPdfArt(
  source: ByteSource,
  options: ReadOptions,
  data: PageData,
  task?: Task,
): Promise<ArtFile> {
  const { page = 1, ppi = drawnPpi, readAs = 'inks', password } = options
  const { pages } = await pagesOf(source, password)
  const choice = { page, ...(password === undefined ? {} : { password }) }
  const drawn = await readInkPage(source, choice, data, partOf(task, 0, 1))
  return drawnArt(drawn, {
    name: source.name,
    format: 'PDF',
    ppi,
    mode: 'CMYK',
    number: page,
    count: pages.length,
    readAs,
  })
}
