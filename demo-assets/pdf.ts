import { deflateSync } from 'node:zlib'
import { pathContent, reals } from '../core/export/pdf-content.ts'
import { PdfText } from '../tests/support/pdf-write.ts'
import type { PsdGroup, PsdLayer } from '../tests/support/psd-write.ts'
import { drawArt } from './art.ts'
import { type Ink, stored } from './ink.ts'
import { type Cover, height, heightMm, ppi, width, widthMm } from './page.ts'
import { type Drawn, drawnLayers, solidWhite } from './vectors.ts'

const points = 72 / 25.4
/** mm of a pixel: the picture's lower left corner is the page's. */
const pixelMm = 25.4 / ppi

/** Spot inks of the page: what stands for them, and the name of their space. */
const spots = {
  White: { space: 'W', cmyk: [0, 0, 0, 0] },
  Holography: { space: 'H', cmyk: [0.3, 0, 0.1, 0.1] },
  Dieline: { space: 'D', cmyk: [0, 1, 0, 0] },
} as const

/** Steps of layers, ISO 19593-1: the group and its type. */
const steps: Readonly<Record<string, readonly [group: string, type?: string]>> = {
  White: ['White'],
  Dieline: ['Structural', 'Cutting'],
  Legend: ['Legend'],
}

/**
 * The demo's carton front as a PDF: what is drawn as paths, what is painted as images; white, holography and die in inks
 * of their own, every layer optional content of its name. @param profile  of the press condition
 */
export function makePdf(profile: Uint8Array): Uint8Array<ArrayBuffer> {
  return new Writer().page(profile)
}

class Writer {
  readonly #pdf = new PdfText()
  readonly #drawn = drawnLayers()
  /** By name, in the order in which the page names them. */
  readonly #layers = new Map<string, string>()
  readonly #objects: string[] = []
  readonly #states = new Map<string, string>()

  page(profile: Uint8Array): Uint8Array<ArrayBuffer> {
    const pdf = this.#pdf
    const { layers, whiteTones } = drawArt()
    const order: string[] = []
    const body: string[] = []
    for (const layer of layers) {
      body.push(this.#part(layer, order))
      // White lies between the metal and the inks.
      if (layer.name === 'Holography') body.push(this.#white(order, whiteTones))
    }
    const content = packed(pdf, '', [`${reals(points, 0, 0, points, 0, 0)} cm /Over gs`, ...body].join('\n'))
    const resources = pdf.add(this.#resources())
    const next = Number(resources.split(' ')[0]) + 2
    const box = `[0 0 ${reals(widthMm * points, heightMm * points)}]`
    const page = pdf.add(
      `<< /Type /Page /Parent ${next} 0 R /MediaBox ${box} /TrimBox ${box} /Group << /S /Transparency /CS /DeviceCMYK /I true >> /Resources ${resources} /Contents ${content} >>`,
    )
    const list = pdf.add(`<< /Type /Pages /Kids [${page}] /Count 1 >>`)
    const intent = packed(pdf, '/N 4', profile)
    const all = [...this.#layers.values()].join(' ')
    return pdf.finish(
      pdf.add(
        `<< /Type /Catalog /Pages ${list} /OCProperties << /OCGs [${all}] /D << /BaseState /ON /Order [${order.toReversed().join(' ')}] >> >> /OutputIntents [<< /Type /OutputIntent /S /GTS_PDFX /OutputConditionIdentifier (ISO Coated v2 300%) /DestOutputProfile ${intent} ${hints} >>] >>`,
      ),
    )
  }

  /** A layer or group in its optional content. @param order  refs and lists of their members, bottom first */
  #part(layer: PsdLayer | PsdGroup, order: string[]): string {
    const name = this.#layer(layer.name)
    const inside = 'children' in layer ? this.#group(layer, order) : this.#leaf(layer)
    if (!('children' in layer)) order.push(this.#layers.get(layer.name)!)
    return `/OC /${name} BDC\n${inside}\nEMC`
  }

  #group({ name, children, mask }: PsdGroup, order: string[]): string {
    const own: string[] = []
    const body = children.map(child => this.#part(child, own)).join('\n')
    order.push(`${this.#layers.get(name)!} [${own.toReversed().join(' ')}]`)
    if (!mask) return body
    const bared = this.#image('/DeviceGray', width, height, bytesIn(mask.data))
    const group = '/Group << /S /Transparency /CS /DeviceGray /I true >>'
    const shown = packed(
      this.#pdf,
      `/Type /XObject /Subtype /Form /BBox ${pageBox} ${group} /Resources << /XObject << /M ${bared} >> >>`,
      `q ${pixels(0, 0, width, height)} cm /M Do Q`,
    )
    const state = this.#state(`/SMask << /S /Luminosity /G ${shown} >>`)
    return `q /${state} gs /${this.#form(body)} Do Q`
  }

  /** Marks that are laid down together on what lies below. */
  #form(body: string): string {
    // Its resources are the page's, which are not complete yet: they are the object that comes last.
    this.#forms.push(body)
    return `F${this.#forms.length - 1}`
  }
  readonly #forms: string[] = []

  #leaf(layer: PsdLayer): string {
    const { name, opacity = 1, blend } = layer
    const alpha = `/ca ${opacity} /CA ${opacity}`
    // What multiplies leaves other inks alone by itself; together with overprint it would multiply them by themselves
    // (ISO 32000-2, 11.7.4.3).
    const how = blend === 'mul ' ? '/BM /Multiply /OP false /op false' : '/BM /Normal'
    const state = this.#state(`${alpha} ${how}`)
    const drawn = this.#drawn[name]
    if (drawn) {
      const marks = `${inkContent(drawn.ink)} ${shapesContent(drawn.shapes)}`
      // Shapes that lie over one another are as clear as one.
      const body = opacity < 1 && drawn.shapes.length > 1 ? `/${this.#form(marks)} Do` : marks
      return `q /${state} gs ${body} Q`
    }
    const { left, top, right, bottom } = layer.box
    const [coverage, ...planes] = [-1, 0, 1, 2, 3].map(id => bytesIn(layer.planes[id]!)) as [
      Uint8Array,
      ...Uint8Array[],
    ]
    const [across, down] = [right - left, bottom - top]
    // One ink has no colours: how much of it there is says all.
    if (name === 'Holo Milky Way') {
      const image = this.#image(separation('Holography'), across, down, coverage)
      return `q /${state} gs ${pixels(left, top, right, bottom)} cm /${this.#object(image)} Do Q`
    }
    const first = planes.map(plane => plane[coverage.findIndex(value => value > 0)]!)
    const one = planes.every((plane, p) => plane.every((value, i) => value === first[p] || coverage[i] === 0))
    const colours = one
      ? Uint8Array.from(first, value => 255 - value)
      : Uint8Array.from({ length: 4 * across * down }, (_, i) => 255 - planes[i % 4]![i >> 2]!)
    const [w, h] = one ? [1, 1] : [across, down]
    const whole = coverage.every(value => value === 255)
    const image = this.#image(
      '/DeviceCMYK',
      w,
      h,
      colours,
      whole ? '' : `/SMask ${this.#image('/DeviceGray', across, down, coverage)}`,
    )
    return `q /${state} gs ${pixels(left, top, right, bottom)} cm /${this.#object(image)} Do Q`
  }

  #white(order: string[], whiteTones: Cover): string {
    const name = this.#layer('White')
    order.push(this.#layers.get('White')!)
    const tones = this.#image(separation('White'), width, height, bytesOf(whiteTones))
    return `/OC /${name} BDC\nq ${pixels(0, 0, width, height)} cm /${this.#object(tones)} Do Q q /W cs 1 scn ${shapesContent(solidWhite())} Q\nEMC`
  }

  #layer(name: string): string {
    const step = steps[name]
    const type = step?.[1] ? `/GTS_ProcStepsType /${step[1]}` : ''
    const stated = step ? `/GTS_Metadata << /GTS_ProcStepsGroup /${step[0]} ${type} >>` : ''
    this.#layers.set(name, this.#pdf.add(`<< /Type /OCG /Name (${name}) ${stated} >>`))
    return `L${this.#layers.size - 1}`
  }

  #state(entries: string): string {
    const known = this.#states.get(entries)
    if (known) return known
    const name = `G${this.#states.size}`
    this.#states.set(entries, name)
    return name
  }

  #object(ref: string): string {
    this.#objects.push(ref)
    return `X${this.#objects.length - 1}`
  }

  #image(space: string, across: number, down: number, data: Uint8Array, more = ''): string {
    const samples = data.length / across / down
    return packed(
      this.#pdf,
      `/Type /XObject /Subtype /Image /Width ${across} /Height ${down} /BitsPerComponent 8 /ColorSpace ${space} ${more}`,
      data,
      { columns: across, colors: samples },
    )
  }

  /** One dictionary for page and forms; forms name it before it is there. */
  #resources(): string {
    const shared = () =>
      [
        `/ColorSpace << ${Object.entries(spots)
          .map(([name, { space }]) => `/${space} ${separation(name as keyof typeof spots)}`)
          .join(' ')} >>`,
        `/ExtGState << /Over << /OP true /op true /OPM 0 >> ${[...this.#states].map(([entries, name]) => `/${name} << ${entries} >>`).join(' ')} >>`,
        `/Properties << ${[...this.#layers.values()].map((ref, i) => `/L${i} ${ref}`).join(' ')} >>`,
      ].join(' ')
    const objects = () => this.#objects.map((ref, i) => `/X${i} ${ref}`).join(' ')
    const made: string[] = []
    // A form is made of what came before it, so earlier ones are there when a later one names them.
    for (const body of this.#forms) {
      const inside = `${objects()} ${made.map((ref, i) => `/F${i} ${ref}`).join(' ')}`
      made.push(
        packed(
          this.#pdf,
          `/Type /XObject /Subtype /Form /BBox ${pageBox} /Group << /S /Transparency /I false >> /Resources << ${shared()} /XObject << ${inside} >> >>`,
          body,
        ),
      )
    }
    return `<< ${shared()} /XObject << ${objects()} ${made.map((ref, i) => `/F${i} ${ref}`).join(' ')} >> >>`
  }
}

/** Of forms, which are drawn in mm. */
const pageBox = `[0 0 ${reals(widthMm, heightMm + 1)}]`

/** How opaque white is, and that it is printed first. */
const hints =
  '/MixingHints << /Solidities << /White 0.6 /Default 0 >> /PrintingOrder [/White /Cyan /Magenta /Yellow /Black] >>'

/** The unit square on a box of pixels. */
const pixels = (left: number, top: number, right: number, bottom: number): string =>
  reals((right - left) * pixelMm, 0, 0, (bottom - top) * pixelMm, left * pixelMm, (height - bottom) * pixelMm)

const separation = (name: keyof typeof spots): string =>
  `[/Separation /${name} /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [${spots[name].cmyk.join(' ')}] /N 1 >>]`

/** Fills and lines of one ink. */
const inkContent = (ink: Ink | keyof typeof spots): string =>
  typeof ink === 'string'
    ? `/${spots[ink].space} cs 1 scn /${spots[ink].space} CS 1 SCN`
    : `${reals(...ink)} k ${reals(...ink)} K`

const shapesContent = (shapes: readonly Drawn[]): string =>
  ['1 J 0 j', ...shapes.map(shapeContent)].join('\n')

const shapeContent = (shape: Drawn): string =>
  shape.kind === 'fill'
    ? `${pathContent(shape.path)} f*`
    : `${reals(shape.penMm)} w ${pathContent(shape.path)} S`

/** The demo's own planes are bytes; other files of the same writer may be words, or made when they are asked for. */
function bytesIn(samples: unknown): Uint8Array {
  if (samples instanceof Uint8Array) return samples
  throw new TypeError('pdf: expected planes of bytes')
}

const bytesOf = (cover: Cover): Uint8Array => Uint8Array.from(cover, share => 255 - stored(share))

/** A stream, packed; rows of an image hold differences from the row above (ISO 32000-2, 7.4.4.4, PNG Up). */
function packed(
  pdf: PdfText,
  entries: string,
  data: string | Uint8Array,
  image: { readonly columns: number; readonly colors: number } | null = null,
): string {
  const bytes = typeof data === 'string' ? Uint8Array.from(data, letter => letter.charCodeAt(0)) : data
  if (image === null) return pdf.stream(`${entries} /Filter /FlateDecode`, deflateSync(bytes, { level: 9 }))
  const row = image.columns * image.colors
  const rows = new Uint8Array((bytes.length / row) * (row + 1))
  for (let from = 0, to = 0; from < bytes.length; from += row) {
    rows[to++] = 2
    for (let i = from; i < from + row; i++) rows[to++] = bytes[i]! - (i >= row ? bytes[i - row]! : 0)
  }
  const how = `/DecodeParms << /Predictor 12 /Columns ${image.columns} /Colors ${image.colors} >>`
  return pdf.stream(`${entries} /Filter /FlateDecode ${how}`, deflateSync(rows, { level: 9 }))
}
