import { BadInput } from '../../base/finding.ts'
import type { ByteSource } from '../../base/source.ts'
import { flatId } from '../flat-layer.ts'
import type { Art, ArtFile, Plane, Rows } from '../layer.ts'
import type { Place } from '../place.ts'
import type { LayerPlanes } from './layer-planes.ts'
import type { PictureLayout } from './picture.ts'
import { decodePlane, type PackedPlane } from './planes.ts'

/** An opened PSD: what it says, and where its samples lie. Nothing is kept of what it decodes. */
export class PsdFile implements ArtFile {
  /**
   * @param planes   by layer id
   * @param picture  the flattened picture, or why it cannot be read
   * @param planeCount  planes of the flattened picture
   */
  constructor(
    readonly art: Art,
    private readonly source: ByteSource,
    private readonly budget: number,
    private readonly planes: ReadonlyMap<string, LayerPlanes>,
    private readonly picture: PictureLayout | BadInput,
    private readonly planeCount: number,
  ) {}

  layerPlane(layerId: string, channelId: number, rows?: Rows): Promise<Plane | null> {
    const planes = this.planes.get(layerId)
    if (planes === undefined && layerId === flatId) return this.flatPlane(channelId, rows)
    return this.decode(planes?.colors.get(channelId), rows)
  }

  maskPlane(layerId: string): Promise<Plane | null> {
    return this.decode(this.planes.get(layerId)?.mask)
  }

  vectorMaskPlane(layerId: string): Promise<Plane | null> {
    return this.decode(this.planes.get(layerId)?.vectorMask)
  }

  async documentPlane(index: number, rows?: Rows): Promise<Plane> {
    if (this.picture instanceof BadInput) throw this.picture
    if (!Number.isInteger(index) || index < 0 || index >= this.planeCount)
      throw new RangeError(`documentPlane: expected 0 to ${this.planeCount - 1}, got ${index}`)
    const channel = this.art.channels.find(c => c.plane === index)
    const place: Place = {
      file: this.source.name,
      part: channel ? `channel "${channel.name}"` : `flattened picture, plane ${index}`,
    }
    return decodePlane(this.source, this.picture.plane(index, place), this.budget, rows)
  }

  private async flatPlane(channelId: number, rows?: Rows): Promise<Plane | null> {
    const flat = this.art.layers.find(l => l.id === flatId)
    if (!flat?.channelIds.includes(channelId)) return null
    if (channelId >= 0) return this.documentPlane(channelId, rows)
    return this.documentPlane(this.art.channels.find(c => c.kind === 'transparency')!.plane, rows)
  }

  private async decode(packed: PackedPlane | null | undefined, rows?: Rows): Promise<Plane | null> {
    return packed ? decodePlane(this.source, packed, this.budget, rows) : null
  }
}
