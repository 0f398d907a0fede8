package kind_test

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"testing"

	"lampblack/patch"
	"lampblack/patch/dsp/hash"
	"lampblack/patch/kind"
	"lampblack/patch/kind/rig"
	"lampblack/patch/module"
)

// digests are the SHA-256 of what every kind of this version sounds like under
// the movements below, on any processor. A take is proved bit by bit, so when
// one changes, raise the kind's Version and write down both here: a proof then
// names the kind.
var digests = map[string]struct {
	version int
	sha256  string
}{
	"memory":       {1, "bc80c7ed75f99d56129d54a6e69e3be735adc68e65757ca039e3beb39552bbad"},
	"oscillator":   {2, "1c8f0971dedd539783a028d98ef4d09b32dcf33b6917c7c94ca7c88980ce732a"},
	"noise":        {2, "c29d2612dd3e85dfddf10eacad08ba0ff4925859c3e045ffceab64db6bf7fab3"},
	"recording":    {2, "03c781a1c1e060f0c48117753837ce1317e7be6fd3a539b6143edc93eda07e8d"},
	"click":        {1, "39673f9175de13abaa4ccdb9204f9f76141fbf7ee6a4dae5f72e388d10d939b7"},
	"filter":       {2, "6e8007e9e870f6340e6dadfbbaec40bf44d9e91b3847f0028081473dfc52ce21"},
	"ladder":       {1, "88f9359570527bc08045a77bbb1f4a7816bfd948e4ef43e91d33c19a2413fdb5"},
	"allpass":      {1, "70bd3cc680bb7a3f4fd296c54dcaf0fbf6a281761e912a9d0d6b952b2475f1c5"},
	"tilt":         {1, "2fad3f1c38e819a2ae65432666e2acac4a430071f978a494093c6e5f1e845e0b"},
	"dcblock":      {1, "7574b1ec08d70c208db853cc2b74c641af2e15ce7d5789ed578aa5f753ad7a34"},
	"envelope":     {1, "7c19d622958c1d516408a1046a784bea36decc7ab53a99b122a7c96c7116cb26"},
	"slow":         {1, "448d4d0011bffb566e7f28554f695ee857c923d7a74fb4dc07859381b6eb0163"},
	"pitch":        {1, "599c1bb5ffd4b87229a81958f33f1060821cd01cd7aa7ccafa0d862f4522f3f6"},
	"vocoder":      {1, "c5f08e07a567b409fb689feb7362bd003d72f72de7ba58a3e85444554ba66bf6"},
	"loudness":     {1, "69b534888c3b4bc00cd9c4fd7627daf515dd3f1bb64a4bed6bc4e3a3fbc3af27"},
	"gate":         {1, "07854d2fef297a06ba81685e660c332de36d5d18d546927d30daad6d7fda1541"},
	"onset":        {2, "8cae454b68f3746ec6e4dba139acee0c6d0ad92587fb5667306f3c674d0c3005"},
	"amplifier":    {1, "8c881014a22ebe0c2ecbbaf34aef6cfeba03817705c8898afbb5f2271e8cfd60"},
	"mixer":        {1, "385bf0d5080cca48bdd8eb4a3dc52124d99c15d765c6939f040d18d8d504d03a"},
	"pan":          {1, "811e716434c71b587ec02bb02b06f10c3e34d18beade1de983ca92847914011c"},
	"width":        {1, "da6eede4745d128576f4fd11e80342f877f27001ae7c761def0280d84c968117"},
	"wander":       {1, "dfd476811d3914095b64a79ac20c2d967da55b41b24a47c56c5a3531ca0754f9"},
	"hold":         {1, "b07cd1aab04ec80ee522edf0cd2691350495e21a1d53433ed2d3ee7ddb263708"},
	"ring":         {1, "4be188e833895f991b8ac685b06343fe05a01023ca9ce17293cbe9a44c0265af"},
	"slew":         {1, "6efc5cc97d04c79201df48731ad26bd237246a65e8b9017c675373dd463e53b9"},
	"scale":        {1, "3074ae1490152a43ce94c3d013776b98fc7924242cd473eab558ada5e1114571"},
	"comparator":   {1, "dcef2a57bfd3c56d18ad76003b49865d09a0b498013ac9374887cc9c2f4a5149"},
	"logic":        {1, "791758dafc9cc0b2b2bcad6adee94dae5f7ec175c255f42cdb4598dadf9490d9"},
	"resonator":    {1, "c65dc2dd5c292b0a9b3322284e36c5890a46c93cbaaddae20c8d57f4b49b4f60"},
	"string":       {1, "87aad5277dd0ebf9a90cfe49d71b77e1aefbfb67316bf5d6fa44edaf25f2b197"},
	"delay":        {1, "03d4da598bca6949fec795995f30ec9713468c454a690231364548a66d7c9508"},
	"chorus":       {1, "a3f6ab57277ce0e8be2bbb9cba94df3b12ef9f003c8437c46a416d7951019e4d"},
	"wow":          {1, "3436210eb4d9ecc32876e78973e0b020932625311e7ccf09638b2fb2af5527b7"},
	"quantiser":    {1, "36b2c9ff351176f8dc4049467c9417bfc74350d3ab45b7250c7e8fdbaf0b29f6"},
	"ahd":          {1, "04f9da5ef75ec23a37c385965cfb71310e8e09c470481aab2a495ec08f0f972b"},
	"contour":      {1, "543dcfda08d2aadc9e225a92528f6b739c1a5ef676f27b7c1c17b141d347d784"},
	"saturation":   {1, "321e497ba33e83a038e29a7ce3c03dd2b84e7ce57bb3fdb091169f86b49a71c2"},
	"partials":     {1, "8acbcbf9275013ab2f07e01253ce42579815d5e53035e5a5e5c3ad27f455dfee"},
	"reverberator": {1, "238a63e2a6c294971fd15e6fbf7ac12ee3e861ece24f16dd8262646353c05808"},
	"bands":        {1, "71c7ccc44af6061643120ade7a09d4481538a13baa5b025c1ce74bb4d134ebfb"},
	"output":       {1, "c02aa5bb579aff7e722209c3e5f8c185eb4f238a371d096a2ba58eb4f67ffc40"},
}

func TestSoundChangesOnlyWithTheVersion(t *testing.T) {
	for _, k := range kind.All() {
		got, want := digest(k), digests[k.Name]
		if k.Version != want.version || got != want.sha256 {
			t.Errorf("the sound of %q has changed: version %d, digest\n\t%q\nbut written down is version %d,\n\t%q",
				k.Name, k.Version, got, want.version, want.sha256)
		}
	}
}

// digest runs a kind with all that can move moving, once for each of its
// choices.
func digest(k *module.Kind) string {
	sum := sha256.New()
	choices := 4
	for _, c := range k.Controls {
		choices = max(choices, len(c.Scales[0].Choices))
	}
	for choice := range choices {
		r := feed(rig.NewSetup(k, module.Setup{Rate: 44100, Seed: 9, Clip: clip}))
		for i := range k.Controls {
			c := &k.Controls[i]
			s := &c.Scales[choice%len(c.Scales)]
			if s.Taper == patch.Stepped {
				r.Set(c.Name, math.Min(float64(choice), s.Max), s.Unit)
				continue
			}
			low, high := portable(s)
			r.MoveRaw(c.Name, s.Unit, func(n int) float64 {
				// Slowly from one random place to the next, by additions and
				// products that no processor may fuse.
				a, b := hash.Signed(uint64(i), uint64(n/512)), hash.Signed(uint64(i), uint64(n/512+1))
				x := a + float64((b-a)*(float64(n%512)/512))
				return low + float64((high-low)*(0.5+float64(0.5*x)))
			})
		}
		for _, out := range r.Run(8192) {
			for _, y := range out {
				var b [8]byte
				binary.LittleEndian.PutUint64(b[:], math.Float64bits(y))
				sum.Write(b[:])
			}
		}
	}
	return hex.EncodeToString(sum.Sum(nil))
}

// portable is a range of values as they arrive, without a power of ten that
// processors may round differently.
func portable(s *patch.Scale) (low, high float64) {
	switch s.Unit {
	case "dB":
		return 0.001, 4
	case "%":
		return s.Min / 100, s.Max / 100
	}
	return s.Min, s.Max / 4
}
