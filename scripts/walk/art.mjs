// Art in the shapes that files of cartons have, for the walk to open: small, and made anew each time.
import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { PDFDocument, PDFName, PDFString, rgb } from '@cantoo/pdf-lib'
import { encode } from 'fast-png'

/** @typedef {{ name: string, mimeType: string, buffer: Buffer }} GivenFile */

/** @param {number} mm */
const pt = mm => (mm / 25.4) * 72

/** A PDF as a page gets it. @param {string} name @param {import('@cantoo/pdf-lib').PDFDocument} document @returns {Promise<GivenFile>} */
async function given(name, document) {
  const bytes = await document.save({ useObjectStreams: false })
  return { name, mimeType: 'application/pdf', buffer: Buffer.from(bytes) }
}

/** Pages of several sizes, each with a star of its own. @param {{ password?: string }} [how] */
export async function severalPages({ password } = {}) {
  const document = await PDFDocument.create()
  for (const [width, height, tips] of sizes) {
    const page = document.addPage([pt(width), pt(height)])
    page.drawRectangle({ ...whole(width, height), color: rgb(0.04, 0.08, 0.2) })
    page.drawSvgPath(star(pt(Math.min(width, height)) / 2.6, tips), {
      x: pt(width) / 2,
      y: pt(height) / 2,
      color: rgb(0.95, 0.85, 0.5),
    })
  }
  if (password !== undefined) document.encrypt({ userPassword: password, ownerPassword: 'nebula' })
  return given('Eyepiece range, all sizes.pdf', document)
}

/** Width and height, mm, and tips of the star. */
const sizes = /** @type {const} */ ([
  [100, 150, 5],
  [150, 100, 6],
  [60, 60, 7],
  [40, 180, 8],
  [100, 150, 9],
])

/** @param {number} width @param {number} height */
const whole = (width, height) => ({ x: 0, y: 0, width: pt(width), height: pt(height) })

/** @param {number} radius @param {number} tips */
function star(radius, tips) {
  const corners = Array.from({ length: 2 * tips }, (_, i) => {
    const r = i % 2 === 0 ? radius : radius * 0.45
    const turn = (Math.PI * i) / tips
    return `${(r * Math.sin(turn)).toFixed(2)} ${(-r * Math.cos(turn)).toFixed(2)}`
  })
  return `M ${corners.join(' L ')} Z`
}

/** A page of three layers with an ink that names all inks at once beside another, a picture that is cut, and type in a font that it lacks. */
export async function inexactPage() {
  const document = await PDFDocument.create()
  const page = document.addPage([pt(80), pt(110)])
  const { context } = document
  const layers = ['Holography', 'White', 'Overprint'].map(name =>
    context.register(context.obj({ Type: 'OCG', Name: PDFString.of(name) })),
  )
  document.catalog.set(
    PDFName.of('OCProperties'),
    context.obj({ OCGs: layers, D: { Order: layers, ON: layers } }),
  )
  const sky = context.register(
    context.stream(new Uint8Array(3000).fill(90), {
      Type: 'XObject',
      Subtype: 'Image',
      Width: 64,
      Height: 64,
      BitsPerComponent: 8,
      ColorSpace: 'DeviceRGB',
    }),
  )
  const ink = (/** @type {string} */ name, /** @type {number[]} */ C1) => [
    'Separation',
    name,
    'DeviceCMYK',
    { FunctionType: 2, Domain: [0, 1], C0: [0, 0, 0, 0], C1, N: 1 },
  ]
  const toBlack = context.register(
    context.stream('{ pop 0 0 0 4 -1 roll }', {
      FunctionType: 4,
      Domain: [0, 1, 0, 1],
      Range: [0, 1, 0, 1, 0, 1, 0, 1],
    }),
  )
  page.node.set(
    PDFName.of('Resources'),
    context.obj({
      XObject: { Sky: sky },
      ColorSpace: {
        Marks: ['DeviceN', ['All', 'White'], 'DeviceCMYK', toBlack],
        Foil: ink('Holography', [0.3, 0, 0.1, 0]),
        White: ink('White', [0.1, 0, 0, 0.05]),
      },
      Font: {
        Head: {
          Type: 'Font',
          Subtype: 'TrueType',
          BaseFont: 'HaldenGrotesk-Bold',
          Encoding: 'WinAnsiEncoding',
        },
      },
      Properties: Object.fromEntries(layers.map((layer, i) => [`Layer${i}`, layer])),
    }),
  )
  page.node.set(PDFName.of('Contents'), context.register(context.stream(inexactContent)))
  return given('Comet hunter front.pdf', document)
}

const [wide, high] = [pt(80), pt(110)]
const inexactContent = [
  `/OC /Layer0 BDC /Foil cs 1 scn 20 40 ${wide - 40} 180 re f EMC`,
  '/OC /Layer1 BDC /White cs 1 scn 40 240 150 40 re f EMC',
  `/OC /Layer2 BDC q ${wide} 0 0 120 0 ${high - 120} cm /Sky Do Q /Marks cs 0.8 0.2 scn 20 20 60 12 re f BT /Head 22 Tf 0 0 0 1 k 40 250 Td (Comet hunter) Tj ET EMC`,
].join('\n')

/** A folder of one picture a plate, and a note beside them that is none. @param {string} folder */
export function plateFolder(folder) {
  mkdirSync(folder, { recursive: true })
  for (const [i, name] of ['Cyan', 'Magenta', 'Yellow', 'Black', 'White', 'Holography'].entries()) {
    const data = Uint8Array.from({ length: plateSide * plateSide }, (_, at) => {
      const [x, y] = [at % plateSide, Math.floor(at / plateSide)]
      const turn = (2 * Math.PI * i) / 6
      const far = Math.hypot(
        x - plateSide * (0.5 + 0.2 * Math.cos(turn)),
        y - plateSide * (0.5 + 0.2 * Math.sin(turn)),
      )
      return far < plateSide * 0.24 ? 40 : 255
    })
    writeFileSync(
      join(folder, `Halden lens cap (${name}).png`),
      encode({ width: plateSide, height: plateSide, channels: 1, data }),
    )
  }
  writeFileSync(join(folder, 'to the printer.txt'), 'White goes first.')
  return folder
}

const plateSide = 600
