package card_test

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"github.com/tightwright/tightwright/procedure"
	"github.com/tightwright/tightwright/server/card"
)

// The QR code that stands on the card is read again by another library than the
// one that made it, from the shapes in the SVG, and gives the build's id. Ids
// are as the API takes them. Some ids are found as a camera would find them; any
// id is read without looking for the corners, which in a drawing without blur
// that library now and then takes for something else.
func TestQRCodeGivesTheBuild(t *testing.T) {
	for _, id := range []string{"b", "whole-road", "b-02", "0042", strings.Repeat("a-9", 21)} {
		require.Equal(t, id, scan(t, drawn(t, id)))
	}
	rapid.Check(t, func(rt *rapid.T) {
		id := rapid.StringMatching(`[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?`).Draw(rt, "id")
		require.Equal(rt, id, scan(rt, drawn(t, id), gozxing.DecodeHintType_PURE_BARCODE))
	})
}

// A spot of grease on it does no harm: level Q restores a quarter of the code
// words (ISO/IEC 18004:2015, 7.5.1); the blot here covers some of them.
func TestQRCodeBearsGrease(t *testing.T) {
	img := drawn(t, "whole-road")
	side := img.Bounds().Dx()
	blot := image.Rect(side-8*pixels, side-8*pixels, side-4*pixels, side-4*pixels) // the corner without a finder
	draw.Draw(img, blot, image.NewUniform(color.Black), image.Point{}, draw.Src)
	require.Equal(t, "whole-road", scan(t, img))
}

// drawn draws the QR code of a card, eight pixels a module.
func drawn(t testing.TB, id string) *image.Gray {
	t.Helper()
	page := parse(t, write(t, card.Card{Whole: &procedure.Whole{Build: id, At: friday}}))
	for _, svg := range page.all("svg", "") {
		if svg.attrs["role"] == "img" {
			return paint(t, svg)
		}
	}
	require.Fail(t, "no QR code")
	return nil
}

const pixels = 8

func paint(t testing.TB, svg *node) *image.Gray {
	t.Helper()
	var size int
	_, err := fmt.Sscanf(svg.attrs["viewBox"], "0 0 %d", &size)
	require.NoError(t, err)
	img := image.NewGray(image.Rect(0, 0, size*pixels, size*pixels))
	draw.Draw(img, img.Bounds(), image.White, image.Point{}, draw.Src)
	for _, run := range strings.Split(strings.Trim(svg.all("path", "")[0].attrs["d"], "z"), "z") {
		var x, y, wide, back int
		_, err := fmt.Sscanf(run, "M%d %dh%dv1h-%d", &x, &y, &wide, &back)
		require.NoError(t, err)
		require.Equal(t, wide, back)
		draw.Draw(img, image.Rect(x*pixels, y*pixels, (x+wide)*pixels, (y+1)*pixels), image.Black, image.Point{}, draw.Src)
	}
	return img
}

// scan reads a QR code as a camera would see it, or as the hints say.
func scan(t require.TestingT, img image.Image, hints ...gozxing.DecodeHintType) string {
	bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
	require.NoError(t, err)
	how := map[gozxing.DecodeHintType]any{}
	for _, h := range hints {
		how[h] = true
	}
	result, err := qrcode.NewQRCodeReader().Decode(bitmap, how)
	require.NoError(t, err)
	return result.GetText()
}
