import { Pick } from '../Choice.tsx'
import { AssetFiles } from './AssetFiles.tsx'
import { LayerThumb } from './LayerThumb.tsx'
import type { PictureCardProps } from './sources.ts'
import { useLoaded } from './useLoaded.ts'
import { ViewStrip } from './ViewStrip.tsx'

const ownHeights = ''
const fromFile = ' file'

/** Where the heights come from: this layer's tones, another layer's, or a picture file. */
export function ReliefCard({ parameters, sources, put }: PictureCardProps) {
  const asset = sources.assets.find(one => one.id === parameters.heightAssetId) ?? null
  const layerId = typeof parameters.heightLayerId === 'string' ? parameters.heightLayerId : null
  const loaded = useLoaded(JSON.stringify(asset), async () =>
    asset === null ? null : await sources.assetPictures(asset),
  )
  const named = typeof parameters.heightAssetId === 'string'
  return (
    <fieldset className="object">
      <legend>Heights, white is high</legend>
      <Pick
        label="Taken from"
        value={named ? fromFile : (layerId ?? ownHeights)}
        options={[
          { value: ownHeights, title: 'the tones of this layer' },
          ...sources.layers.map(layer => ({ value: layer.id, title: `the tones of “${layer.name}”` })),
          { value: fromFile, title: 'a picture file…' },
        ]}
        onChange={value =>
          value === fromFile
            ? sources.onChoose('heights', 'heightAssetId')
            : put({ heightAssetId: null, heightLayerId: value === ownHeights ? null : value }, null)
        }
      />
      {named ? (
        <>
          <AssetFiles
            asset={asset}
            findings={loaded?.findings ?? []}
            kinds={[{ kind: 'heights', title: 'Choose again…' }]}
            onChoose={kind => sources.onChoose(kind, 'heightAssetId')}
          />
          {loaded?.pictures.length ? (
            <div className="heights">
              <ViewStrip pictures={loaded.pictures} />
            </div>
          ) : null}
        </>
      ) : (
        <div className="heights">
          <LayerThumb sources={sources} layerId={layerId} />
        </div>
      )}
    </fieldset>
  )
}
