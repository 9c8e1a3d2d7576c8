import { type BandClip, BandClips, type PlacedClip, pixelsOf, rectangleRuns } from './band-clip.ts'
import { Composer, layTint, type SourceRow } from './compose.ts'
import { Coverage, type PixelBox } from './coverage.ts'
import { FieldRows } from './field-rows.ts'
import { type Blending, processCount } from './mark.ts'
import type { GroupNode, LeafNode, MaskNode, Node, TilingNode } from './nodes.ts'
import { type Bounds, meet, type Outline } from './outline.ts'
import { Runs, varied } from './runs.ts'
import { type MaskValues, maskValues } from './soft-mask.ts'
import { Backdrop, Surface } from './surface.ts'
import { copiesIn } from './tiling.ts'

/** Paints marks that were made ready onto surfaces, one band of rows after another. */
export class Painter {
  readonly #coverage: Coverage
  readonly #clips: BandClips
  readonly #composer: Composer
  readonly #fields: FieldRows
  readonly #shape: Float32Array
  readonly #alpha: Float32Array
  readonly #cover: Float32Array
  readonly #colors: readonly Float32Array[]
  readonly #whole: Runs
  readonly #masks = new Map<MaskNode, MaskValues>()
  /** Outlines whose edges are held, and the last row of each. */
  #held: { readonly outline: Outline; readonly last: number }[] = []
  /** Where the copy of a cell lies that is being painted. */
  #dx = 0
  #dy = 0
  #band: PixelBox = { left: 0, top: 0, right: 0, bottom: 0 }

  /**
   * @param width  pixels of a row
   * @param inks   most inks of a surface
   */
  constructor(width: number, inks: number) {
    this.#coverage = new Coverage(width)
    this.#clips = new BandClips(this.#coverage, width, clip => this.#hold(clip.outline!))
    this.#composer = new Composer(width)
    this.#fields = new FieldRows(width)
    this.#shape = new Float32Array(width)
    this.#alpha = new Float32Array(width)
    this.#cover = new Float32Array(width)
    this.#colors = Array.from({ length: inks }, () => new Float32Array(width))
    this.#whole = new Runs(width)
  }

  /** Begins another band: what was made for the one before is given back. */
  begin(band: PixelBox): void {
    this.#band = band
    this.#masks.clear()
    this.#clips.begin(band)
    this.#held = this.#held.filter(({ outline, last }) => {
      if (last > band.top) return true
      outline.drop()
      return false
    })
  }

  #hold(outline: Outline): void {
    // Cells are painted again and again, wherever they were made.
    const last = this.#dx === 0 && this.#dy === 0 ? outline.bounds[3] : Number.POSITIVE_INFINITY
    if (!outline.isMade) this.#held.push({ outline, last })
  }

  /** Paints a mark. `outer`: clips that it is cut by beside its own. */
  paint(node: Node, surface: Surface, outer: readonly PlacedClip[]): void {
    const box = this.#pixels(node.bounds, surface.box)
    if (box.right <= box.left || box.bottom <= box.top) return
    const clips = node.clip === null ? outer : [...outer, { clip: node.clip, dx: this.#dx, dy: this.#dy }]
    switch (node.kind) {
      case 'leaf':
        this.#leaf(node, surface, box, clips)
        return
      case 'group':
        if (node.direct && !surface.knockout)
          for (const child of node.children) this.paint(child, surface, clips)
        else this.#group(node, surface, box, clips)
        return
      case 'tiling':
        this.#tiling(node, surface, box, clips)
    }
  }

  #pixels(bounds: Bounds, inside: PixelBox): PixelBox {
    const [l, t, r, b] = bounds
    return pixelsOf([l + this.#dx, t + this.#dy, r + this.#dx, b + this.#dy], inside)
  }

  #leaf(node: LeafNode, surface: Surface, within: PixelBox, clips: readonly PlacedClip[]): void {
    const clip = this.#clips.of(clips)
    const box = leftBy(clip, within)
    if (box.right <= box.left || box.bottom <= box.top) return
    const { paint } = node
    // Nothing shows of it, though its shape counts in a knock-out group.
    if (node.alpha === 0 && !surface.knockout && surface.shape === null) return
    const plain =
      'inks' in paint &&
      node.blend === 'normal' &&
      node.mask === null &&
      !surface.knockout &&
      surface.shape === null
    if (plain) this.#plain(node, surface, box, clip)
    else this.#any(node, surface, box, clip)
  }

  #rows(outline: Outline, box: PixelBox, clip: BandClip | null, each: (y: number, runs: Runs) => void): void {
    this.#hold(outline)
    const { left } = box
    const within = clip?.rectangle ?? null
    this.#coverage.rows(outline.edges(), outline.rule, box, within, this.#dx, this.#dy, (y, covered) => {
      const runs = clip === null ? covered : this.#clips.cut(covered, clip, y, left)
      if (runs.count > 0) each(y, runs)
    })
  }

  /** One tint, normal, straight into the surface. */
  #plain(node: LeafNode, surface: Surface, box: PixelBox, clip: BandClip | null): void {
    const { inks, values } = node.paint as { inks: readonly number[]; values: readonly number[] }
    const planes: Float32Array[] = [surface.alpha]
    const amounts = [1]
    for (let ink = 0; ink < surface.count; ink++) {
      const at = inks.indexOf(ink)
      if (at < 0 && node.overprint) continue
      const value = at < 0 ? 0 : values[at]!
      if (value === 0 && !surface.holds(ink, box.left, box.right)) continue
      planes.push(surface.write(ink, box.left, box.right))
      amounts.push(value)
    }
    const shift = box.left - surface.box.left
    this.#rows(node.outline, box, clip, (y, runs) =>
      layTint(planes, amounts, runs, (y - surface.box.top) * surface.width + shift, node.alpha),
    )
  }

  /** Any paint with any look. */
  #any(node: LeafNode, surface: Surface, box: PixelBox, clip: BandClip | null): void {
    const length = box.right - box.left
    const mask = node.mask === null ? null : this.#mask(node.mask)
    const { paint } = node
    const colors: (Float32Array | null)[] = new Array(surface.count).fill(null)
    const own = 'inks' in paint ? paint : paint.field
    own.inks.forEach((ink, k) => {
      if (ink >= surface.count) return
      const row = this.#colors[ink]!
      if ('inks' in paint) row.fill(paint.values[k]!, 0, length)
      colors[ink] = row
    })
    const into = own.inks.map(ink => colors[ink] ?? null)
    const soft = !('inks' in paint) && paint.field.soft === true && !node.alphaIsShape
    const source: SourceRow = {
      left: box.left,
      from: 0,
      to: 0,
      shape: this.#shape,
      alpha: this.#alpha,
      colors,
      overprint: node.overprint,
      blend: node.blend,
    }
    this.#rows(node.outline, box, clip, (y, runs) => {
      const from = runs.from[0]!
      const to = runs.to[runs.count - 1]!
      source.from = from
      source.to = to
      this.#shape.fill(0, from, to)
      spread(runs, this.#shape)
      if (soft) this.#cover.set(this.#shape.subarray(from, to), from)
      if (!('inks' in paint))
        this.#fields.read(paint, box.left - this.#dx, y - this.#dy, from, to, into, this.#shape)
      scale(this.#shape, 0, from, to, node.alpha, null, this.#alpha)
      mask?.multiply(this.#alpha, y, box.left, from, to)
      if (soft) this.#shape.set(this.#cover.subarray(from, to), from)
      this.#compose(surface, source, box, y, node)
    })
  }

  /** One row onto the surface. */
  #compose(surface: Surface, source: SourceRow, box: PixelBox, y: number, look: Node): void {
    if (look.alphaIsShape) this.#shape.set(this.#alpha.subarray(source.from, source.to), source.from)
    this.#composer.lay(surface, (y - surface.box.top) * surface.width + box.left - surface.box.left, source)
  }

  #group(node: GroupNode, surface: Surface, within: PixelBox, clips: readonly PlacedClip[]): void {
    const clip = this.#clips.of(clips)
    const box = leftBy(clip, within)
    this.#asGroup(node, node, surface, box, clip, inner => {
      for (const child of node.children) this.paint(child, inner, [])
    })
  }

  /**
   * Composes marks by themselves, then what they came to, less what they began on, with the surface (ISO 32000-2,
   * 11.4.8). With αg the opacity of the group and P the sum that its surface holds, αg C = P − (1 − αg) P0.
   */
  #asGroup(
    look: Node,
    { isolated, knockout, blending }: Pick<GroupNode, 'isolated' | 'knockout' | 'blending'>,
    surface: Surface,
    box: PixelBox,
    clip: BandClip | null,
    paintInto: (inner: Surface) => void,
  ): void {
    const length = box.right - box.left
    if (length <= 0 || box.bottom <= box.top) return
    const backdrop = isolated ? null : new Backdrop(surface, box)
    const keepsShape = surface.knockout || surface.shape !== null
    const process = blending?.own ?? surface.process
    const inner = new Surface(box, process, surface.count, knockout, keepsShape, backdrop)
    paintInto(inner)
    const mask = look.mask === null ? null : this.#mask(look.mask)
    const inks = Array.from({ length: inner.count }, (_, ink) => ink).filter(ink => inner.isChanged(ink))
    const sums = inks.map(ink => inner.plane(ink)!)
    const begun = inks.map(ink => backdrop?.plane(ink) ?? null)
    const colors: (Float32Array | null)[] = new Array(inner.count).fill(null)
    for (const ink of inks) colors[ink] = this.#colors[ink]!
    const turned = blending === null ? null : this.#turned(blending, inner, colors)
    const source: SourceRow = {
      left: box.left,
      from: 0,
      to: 0,
      shape: this.#shape,
      alpha: this.#alpha,
      colors,
      // An ink that the group did not change has the colour of what it began on, as under overprint.
      overprint: !isolated,
      blend: look.blend,
    }
    const shapes = inner.shape ?? inner.alpha
    for (let y = box.top; y < box.bottom; y++) {
      const at = (y - box.top) * length
      let from = 0
      let to = length
      while (from < to && shapes[at + from] === 0) from++
      while (to > from && shapes[at + to - 1] === 0) to--
      if (from === to) continue
      source.from = from
      source.to = to
      inks.forEach((ink, k) => {
        unlay(sums[k]!, begun[k]!, inner.alpha, at, from, to, this.#colors[ink]!)
      })
      turned?.(from, to)
      const cover = clip === null ? null : this.#leftOf(clip, y, box.left, length)
      scale(shapes, at, from, to, 1, cover, this.#shape)
      scale(inner.alpha, at, from, to, look.alpha, cover, this.#alpha)
      mask?.multiply(this.#alpha, y, box.left, from, to)
      this.#compose(surface, source, box, y, look)
    }
  }

  /** What turns rows of process colours of a group into those of what lies around it; null where it has none. */
  #turned(
    { own, outer, outward }: Blending,
    inner: Surface,
    colors: (Float32Array | null)[],
  ): ((from: number, to: number) => void) | null {
    const count = processCount[own]
    const changed = colors.slice(0, count).some(row => row !== null)
    // What is no process colour in there is none of it out here.
    colors.fill(null, count, Math.max(count, processCount[outer]))
    if (!changed) return null
    const rows = this.#colors.slice(0, count)
    const out = this.#colors.slice(0, processCount[outer])
    const missing = rows.filter((_, ink) => !inner.isChanged(ink))
    colors.fill(null, 0, count)
    out.forEach((row, ink) => {
      colors[ink] = row
    })
    return (from, to) => {
      for (const row of missing) row.fill(0, from, to)
      outward(rows, from, to, out)
    }
  }

  /** A clip's row by pixel. */
  #leftOf(clip: BandClip, y: number, left: number, length: number): Float32Array {
    const out = this.#whole.cover
    rectangleRuns(clip.rectangle, y, left, length, this.#whole)
    const runs = this.#clips.cut(this.#whole, clip, y, left)
    out.fill(0, 0, length)
    spread(runs, out)
    return out
  }

  #tiling(node: TilingNode, surface: Surface, box: PixelBox, clips: readonly PlacedClip[]): void {
    const [dx, dy] = [this.#dx, this.#dy]
    const cut = [...clips, { clip: node.shape, dx, dy }]
    const seen = { left: box.left - dx, top: box.top - dy, right: box.right - dx, bottom: box.bottom - dy }
    const paintCopies = (paintCopy: () => void) => {
      copiesIn(node, seen, (x, y) => {
        this.#dx = dx + x
        this.#dy = dy + y
        paintCopy()
      })
      this.#dx = dx
      this.#dy = dy
    }
    const paintAll = (into: Surface, outer: readonly PlacedClip[]) => {
      for (const child of node.children) this.paint(child, into, outer)
    }
    if (node.direct && !node.abuts && !surface.knockout) {
      paintCopies(() => paintAll(surface, cut))
      return
    }
    const clip = this.#clips.of(cut)
    // Copies that abut begin all on the same, as the marks of a knock-out group do.
    const made = { isolated: false, knockout: node.abuts, blending: null }
    this.#asGroup(node, made, surface, leftBy(clip, box), clip, inner =>
      paintCopies(() => {
        if (node.abuts) this.#addCopy(node, inner, copy => paintAll(copy, []))
        else paintAll(inner, [])
      }),
    )
  }

  /**
   * Copies that lie edge to edge share the pixels along the edge between them: what each changes there is added up.
   * Composed one over the other they would leave a seam.
   */
  #addCopy(node: TilingNode, into: Surface, paintCopy: (copy: Surface) => void): void {
    const box = this.#pixels(node.cell, into.box)
    if (box.right <= box.left || box.bottom <= box.top) return
    const backdrop = new Backdrop(into, box)
    const copy = new Surface(box, into.process, into.count, false, into.shape !== null, backdrop)
    paintCopy(copy)
    const planes: [Float32Array, Float32Array, Float32Array | null][] = [[into.alpha, copy.alpha, null]]
    for (let ink = 0; ink < copy.count; ink++)
      if (copy.isChanged(ink))
        planes.push([into.write(ink, box.left, box.right), copy.plane(ink)!, backdrop.plane(ink)])
    if (into.shape !== null) planes.push([into.shape, copy.shape!, null])
    for (const [sum, own, begun] of planes)
      for (let y = 0; y < copy.rows; y++) {
        const to = (y + box.top - into.box.top) * into.width + box.left - into.box.left
        const from = y * copy.width
        for (let x = 0; x < copy.width; x++)
          sum[to + x]! += own[from + x]! - (begun === null ? 0 : begun[from + x]!)
      }
  }

  /** Values of a mask over the band; those of a cell's copies are made anew for each. */
  #mask(node: MaskNode): MaskValues {
    const keeps = this.#dx === 0 && this.#dy === 0
    const known = keeps ? this.#masks.get(node) : undefined
    if (known !== undefined) return known
    const box = this.#pixels(node.bounds, this.#band)
    const empty = box.right <= box.left || box.bottom <= box.top
    const none = { left: 0, top: 0, right: 0, bottom: 0 }
    const luminous = node.from === 'luminosity'
    const surface = new Surface(
      empty ? none : box,
      luminous ? 'Gray' : 'none',
      luminous ? 1 : 0,
      false,
      false,
      null,
    )
    const clips = node.clip === null ? [] : [{ clip: node.clip, dx: this.#dx, dy: this.#dy }]
    if (!empty) for (const child of node.children) this.paint(child, surface, clips)
    const made = maskValues(node, surface)
    if (keeps) this.#masks.set(node, made)
    return made
  }
}

/** C of a group from the sum that its surface holds, P: (P − (1 − αg) P0) / αg, pixels from..to of the row at `at`. */
function unlay(
  sum: Float32Array,
  begun: Float32Array | null,
  alpha: Float32Array,
  at: number,
  from: number,
  to: number,
  out: Float32Array,
): void {
  for (let x = from; x < to; x++) {
    const a = alpha[at + x]!
    if (a === 0) continue
    const own = sum[at + x]! - (begun === null ? 0 : (1 - a) * begun[at + x]!)
    out[x] = Math.min(1, Math.max(0, own / a))
  }
}

/** Pixels from..to of the row at `at`, times a number and what a clip leaves. */
function scale(
  plane: Float32Array,
  at: number,
  from: number,
  to: number,
  by: number,
  cover: Float32Array | null,
  out: Float32Array,
): void {
  for (let x = from; x < to; x++) out[x] = plane[at + x]! * by
  if (cover !== null) for (let x = from; x < to; x++) out[x]! *= cover[x]!
}

/** What a clip can leave of a box. */
function leftBy(clip: BandClip | null, box: PixelBox): PixelBox {
  if (clip === null) return box
  const bounds = clip.masks.reduce<Bounds>(
    (sum, { box: b }) => meet(sum, [b.left, b.top, b.right, b.bottom]),
    clip.rectangle,
  )
  return pixelsOf(bounds, box)
}

/** Runs as coverages by pixel, where the row was 0. */
function spread(runs: Runs, out: Float32Array): void {
  for (let r = 0; r < runs.count; r++) {
    const from = runs.from[r]!
    const to = runs.to[r]!
    if (runs.value[r] === varied) {
      if (out !== runs.cover) out.set(runs.cover.subarray(from, to), from)
    } else out.fill(runs.value[r]!, from, to)
  }
}
