import { BadInput } from '../base/finding.ts'
import type { ByteSource } from '../base/source.ts'
import { checkCancelled, type Task } from '../base/task.ts'
import { xmlLimits } from '../base/xml.ts'
import type { Ink } from './ink/mark.ts'
import type { InkPage, PageBox } from './ink/page.ts'
import { readExactly } from './read-exactly.ts'
import { lightAim } from './svg/around.ts'
import { SvgFile } from './svg/file.ts'
import { svgRoot } from './svg/root.ts'
import { firstStyle, styleWithin } from './svg/style.ts'
import { viewOf } from './svg/view.ts'
import { Walk } from './svg/walk.ts'

/** What takes the three lights away; their order is that of a colour's components. */
const lights: readonly Ink[] = ['Red', 'Green', 'Blue'].map(name => ({
  name,
  alternate: null,
  solidity: null,
  order: null,
}))

/**
 * Reads an SVG drawing: its shapes in mm, its groups as layers, its colours as what they take away from red, green and
 * blue. Nothing outside the file is fetched and no script is run; what of it is not drawn is said.
 * @throws BadInput when the file is no SVG, is broken, or holds more than a drawing can
 */
export async function readSvgPage(source: ByteSource, task?: Task): Promise<InkPage> {
  const { name } = source
  if (source.size > xmlLimits.bytes)
    throw new BadInput(
      'xml-too-large',
      name,
      'the file',
      `is longer than ${xmlLimits.bytes / 1e6} MB`,
      'Save the carton alone, with its pictures in files of their own.',
    )
  const bytes = await readExactly(source, 0, source.size, { file: name, part: null })
  const { root, prefix } = svgRoot(bytes, name, {
    packed: 'Unpack it, or save it as plain SVG.',
    other: 'Save the drawing as SVG.',
  })
  checkCancelled(task)
  const view = viewOf(root)
  const file = new SvgFile(name, root, prefix)
  await file.unpack(() => checkCancelled(task))
  const walk = new Walk(file, lightAim, view.matrix)
  const marks = walk.members(root, {
    matrix: view.matrix,
    style: styleWithin(firstStyle, file.says(root)),
    layer: null,
    layered: true,
    view: view.size,
    uses: [],
    depth: 0,
  })
  checkCancelled(task)
  const { widthMm, heightMm } = view
  const media: PageBox = [0, 0, widthMm, heightMm]
  return {
    widthMm,
    heightMm,
    boxes: { media, bleed: null, trim: null, crop: null },
    inks: lights,
    marks,
    layers: file.layers.layers,
    fonts: [],
    outputIntent: null,
    inexact: file.said.findings(true),
    findings: [...view.findings, ...file.said.findings(false)],
  }
}
