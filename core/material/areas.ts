import type { ArtFile, Box } from '../art/layer.ts'
import { BadInput } from '../base/finding.ts'
import { mostViews } from '../effects/view-image.ts'
import { type Groove, grooveIndex } from '../optics/groove.ts'
import { mostGrooves } from '../optics/tables.ts'
import { AreaNotes, addPair } from './area-notes.ts'
import { averageOver } from './average.ts'
import { Band, type GratingArea, type Met, type ViewArea, viewPlace } from './band.ts'
import type { Coverage } from './coverage.ts'
import { Gatherer } from './gather.ts'
import { type Grid, over } from './grid.ts'
import type { GratingChannel, MapPlane, ViewSet } from './map.ts'
import type { OpenArea } from './pictures.ts'
import { GratingTiles, gratingChannel, tileSide } from './tiles.ts'
import { ViewTiles } from './view-tiles.ts'
import { mostViewSets, viewBytes } from './views.ts'

/** Gratings that a map holds at one place. */
export const mostGratings = 4

/** Puts the holography of a map together, rectangle by rectangle, areas bottom first. */
export class AreaPainter {
  readonly #grid: Grid
  readonly #tiles: GratingTiles[] = []
  readonly #gather: Gatherer
  readonly #met: Met[] = []
  readonly #grooveOfArea = new Map<number, number>()
  readonly #viewSets: readonly (ViewSet & { readonly areaId: number })[]
  readonly #views: ViewTiles | null
  readonly #shines = new Float64Array(mostViews)
  readonly #tilesPerRow: number
  readonly notes = new AreaNotes()
  /** The tile and the one area of the last pixel that was noted for one grating. */
  #noted: { readonly number: number; readonly area: OpenArea | null } = { number: -1, area: null }
  /** Groove shapes in use, in the order of the map. */
  readonly grooves: readonly Groove[]

  constructor(file: Pick<ArtFile, 'art'>, grid: Grid, areas: readonly OpenArea[]) {
    this.#grid = grid
    this.#tilesPerRow = Math.ceil(grid.width / tileSide)
    this.#gather = new Gatherer(file, grid)
    const grooves: Groove[] = []
    for (const area of areas) this.#grooveOfArea.set(area.id, grooveNumber(grooves, area))
    this.grooves = grooves
    this.#viewSets = areas.flatMap(area =>
      area.field.kind === 'views'
        ? [
            {
              areaId: area.id,
              name: area.name,
              ...area.field.design,
              grooveDepth: area.field.grooveDepth,
              groove: this.grooveOf(area),
              share: area.field.share,
            },
          ]
        : [],
    )
    if (this.#viewSets.length > mostViewSets)
      throw new BadInput(
        'too-many-view-sets',
        'holography',
        `${this.#viewSets.length} areas with views`,
        `a map holds ${mostViewSets}`,
        'Join areas, or give some of them another effect.',
      )
    this.#views =
      this.#viewSets.length > 0 ? new ViewTiles(grid.width, grid.height, viewBytes(this.#viewSets)) : null
  }

  /** Number of an area's groove among the map's. */
  grooveOf(area: OpenArea): number {
    return this.#grooveOfArea.get(area.id)!
  }

  /** Number of an area's views among the map's sets, from 1; 0: it has none. */
  viewSetOf(area: OpenArea): number {
    return 1 + this.#viewSets.findIndex(set => set.areaId === area.id)
  }

  /** Bytes a pixel of the map's views. */
  get viewBytes(): number {
    return this.#views?.bytes ?? 0
  }

  /** A band that holds what these areas lay, to be opened over one rectangle after another. */
  band(): Band {
    return new Band(this.viewBytes)
  }

  /**
   * Lays an area on a band.
   * @param amount where the area is and what is painted there
   * @param mask   what limits it instead of its own amount, or null
   */
  lay(area: GratingArea, amount: Coverage, mask: Coverage | null, band: Band): void {
    const limit = mask ?? amount
    const gather = this.#gather
    const { field } = area
    const parts = field.kind === 'beside' ? field.parts : [field]
    const drawn = area.source.kind === 'outline'
    const groove = this.grooveOf(area)
    const { columns, rows } = this.#grid
    const [first, end] = over(columns, amount.box.left, amount.box.right)
    const [upper, lower] = over(rows, amount.box.top, amount.box.bottom)
    const left = Math.max(first, band.box.left)
    const right = Math.min(end, band.box.right)
    const top = Math.max(upper, band.box.top)
    const bottom = Math.min(lower, band.box.bottom)
    for (const [i, part] of parts.entries()) {
      gather.open()
      for (let y = top; y < bottom; y++)
        for (let x = left; x < right; x++) {
          const moment = gather.at(area, part, amount, limit, groove, x, y)
          if (drawn && i === 0) band.cut(x, y, gather.covered)
          if (moment.weight > 0) band.add(x, y, area, moment)
        }
      if (gather.coarsest > 0) this.notes.grating(area.id, gather.finest, gather.coarsest, gather.depth)
    }
  }

  /**
   * Lays an area of views on a band.
   * @param limit where it may be, or null for everywhere
   */
  layViews(area: ViewArea, limit: Coverage | null, band: Band): void {
    const place = viewPlace(area, this.#grid)
    if (place === null) return
    const { width, height, widthMm, heightMm } = this.#grid
    const id = this.viewSetOf(area)
    const box: Box = {
      left: Math.max(place.left, band.box.left),
      right: Math.min(place.right, band.box.right),
      top: Math.max(place.top, band.box.top),
      bottom: Math.min(place.bottom, band.box.bottom),
    }
    const shines = this.#shines.subarray(0, area.field.design.channels.length)
    const put = (x: number, y: number, part: number) => {
      if (part <= 0) return
      area.field.at(((x + 0.5) / width) * widthMm, (1 - (y + 0.5) / height) * heightMm, shines)
      if (area.source.kind === 'outline') band.cut(x, y, Math.min(1, part))
      if (shines.some(one => one > 0)) band.addViews(x, y, area, id, shines, Math.min(1, part))
    }
    if (limit) {
      averageOver(this.#grid, limit.box, box.top, box.bottom, i => limit.data[i]!, put, box)
      return
    }
    for (let y = box.top; y < box.bottom; y++) for (let x = box.left; x < box.right; x++) put(x, y, 1)
  }

  /**
   * Stores a finished band. Where areas meet and ask for more than the whole area, each keeps its part of it.
   * @param areaIds the map's area plane: the area with the largest part, the upper one of two equal
   */
  finish(band: Band, areaIds: Uint8Array | Uint16Array): void {
    const { width, height } = this.#grid
    const { left, right, top, bottom } = band.box
    for (let y = top; y < bottom; y++)
      for (let x = left; x < right; x++) {
        const count = band.read(x, y, this.#met)
        const view = band.view(x, y)
        if (count === 0 && view === null) continue
        let total = view?.weight ?? 0
        for (let i = 0; i < count; i++) total += this.#met[i]!.moment.weight
        this.#note(x, y, count, total, view?.area ?? null)
        if (view) {
          if (total > 1) for (let i = 0; i < view.shines.length; i++) view.shines[i]! /= total
          this.#views?.set(x, y, view.id, view.shines, view.area.field.design.channels.length)
          areaIds[y * width + x] = view.area.id
        }
        if (count === 0) continue
        if (count === 1 && view === null) {
          // By far the most pixels.
          const { area, moment } = this.#met[0]!
          if (total > 1) moment.weight /= total
          this.#tiles[0] ??= new GratingTiles(width, height)
          this.#tiles[0].set(x, y, moment)
          areaIds[y * width + x] = area.id
          continue
        }
        const kept = count > mostGratings ? largest(this.#met.slice(0, count), mostGratings) : this.#met
        const slots = Math.min(count, mostGratings)
        let upper: OpenArea | null = null
        let largestPart = -1
        for (let slot = 0; slot < slots; slot++) {
          const one = kept[slot]!
          if (total > 1) one.moment.weight /= total
          this.#tiles[slot] ??= new GratingTiles(width, height)
          this.#tiles[slot]!.set(x, y, one.moment)
        }
        for (let slot = 0; slot < slots; slot++) {
          const { area } = kept[slot]!
          let part = 0
          for (let i = 0; i < slots; i++) if (kept[i]!.area.id === area.id) part += kept[i]!.moment.weight
          if (part < largestPart) continue
          largestPart = part
          upper = area
        }
        if (upper && (view === null || largestPart * Math.max(1, total) > view.weight))
          areaIds[y * width + x] = upper.id
      }
  }

  #note(x: number, y: number, count: number, total: number, view: OpenArea | null): void {
    const number = Math.floor(y / tileSide) * this.#tilesPerRow + Math.floor(x / tileSide)
    const last = this.#noted
    // Neighbours mostly have nothing new to say.
    if (last.number === number && last.area === this.#met[0]?.area && count === 1 && view === null) return
    const note = this.notes.tile(number)
    for (let i = 0; i < count; i++) note.seen.add(this.#met[i]!.area.id)
    if (view) note.seen.add(view.id)
    note.slots = Math.max(note.slots, Math.min(count, mostGratings))
    if (count === 1) this.#noted = { number, area: this.#met[0]!.area }
    if (count + (view ? 1 : 0) < 2) return
    if (count > mostGratings) note.crowded++
    // Neighbours that share the pixels of a soft edge do not overlap.
    if (total < 1.05) return
    const under = this.#met[0]!.area
    let upper = view
    for (let i = count - 1; i > 0; i--) if (this.#met[i]!.area.id !== under.id) upper = this.#met[i]!.area
    if (upper !== null) addPair(note.pairs, under.id, upper.id, 1)
  }

  /** The planes of all that was painted; the painter is used up. */
  planes(): PaintedAreas {
    const channels = this.#tiles.map((_, i) => gratingChannel(i + 1))
    return {
      channels,
      planes: [
        ...this.#tiles.flatMap((tiles, i) => tiles.finish(channels[i]!)),
        ...(this.#views?.finish() ?? []),
      ],
      viewSets: this.viewSets,
    }
  }

  get viewSets(): readonly ViewSet[] {
    return this.#viewSets.map(({ areaId: _, ...set }) => set)
  }
}

export interface PaintedAreas {
  readonly channels: readonly GratingChannel[]
  readonly planes: readonly (readonly [string, MapPlane])[]
  readonly viewSets: readonly ViewSet[]
}

function grooveNumber(grooves: Groove[], area: OpenArea): number {
  const index = grooveIndex(grooves, area.field.groove)
  if (index >= mostGrooves)
    throw new BadInput(
      'too-many-grooves',
      'holography',
      `area "${area.name}"`,
      `needs a groove shape of its own, and a map holds ${mostGrooves}`,
      'Give several areas the same groove shape.',
    )
  return index
}

function largest(met: readonly Met[], count: number): readonly Met[] {
  const chosen = new Set(met.toSorted((a, b) => b.moment.weight - a.moment.weight).slice(0, count))
  return met.filter(one => chosen.has(one))
}
