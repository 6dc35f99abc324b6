// Package inference works out what a pod is from what the meter said, how sure
// that is, which readings cannot all be right, and which sweep to take next. It
// is a pure function of pod and readings: no clock, no disk, no screen, and no
// state but what a caller holds in an Engine.
//
// # The model
//
// A map is a set of links: two ends joined always, or while one, two or three
// switches each stand in some of their positions. In a setting the links that
// hold join ends to nets. Maps whose nets agree in every setting are one map
// drawn in different ways.
//
// Everything is priced in bits of surprise, minus the logarithm to base two of
// how often a thing happens (price.go, pricedeep.go):
//
//   - the prior prices a map before any reading: how many contacts a switch of
//     its kind has, in which positions they close, whether they hang on one
//     common, how many wires switches share, which ends nothing reaches, which
//     switches do nothing, bridges, and links of several switches. It is a
//     price, not a normalised chance; what matters is how it ranks maps. It is
//     held to generated pods by a balance, kind by kind: links that cost b bits on
//     top of the rest of their pod must be as common as links of b bits are stated
//     to be missing from whole pods (balance_test.go). A hidden junction makes several
//     links at once, so links of several switches are also held to it by whole groups
//     (groupbalance_test.go). With a needle, links of two switches that have jobs of
//     their own are taken for rarer than they are (bothActs);
//   - a reading that a map does not expect costs a false silence (4 in 100), a
//     false beep (5 in 1,000), or a half-pressed button (4 in 100) where that
//     would explain the beep;
//   - a slipped clip (3 in 1,000 readings) voids every silence until a control
//     beep shows it or, for one bit, until the clips are moved; a lever set
//     wrong (2 in 100 moves) changes the setting of every reading until it is
//     moved again. An explanation has at most one of these at a time, and is a
//     shortest path over the readings (runs.go).
//
// The best map is the cheapest together with its explanation. The grade of a
// claim is by how many bits the best map that says otherwise is dearer: at least
// 10 proved, at least 4 likely. The doubt left is the weight of all rivals, two
// to the minus the bits by which they are dearer, against the best map's one.
//
// The cheapest explanation counts one way in which things may have gone, a doubt is
// about all of them. While the best map explains every reading the two are nearly the
// same, and the builder is taken for careful, the more so the more beeps were expected
// and heard. Once something is odd (hand.go), a silence counts against a further link by
// all that may make it false, a button not pressed home and a lever not where it was put
// included, and the doubts that are listed are doubled for those that are not. The
// silences before a control beep that failed count by the chance that the clip was off by
// then (suspect.go).
//
// # How it is computed
//
// Exact enumeration is out of reach beyond a handful of ends, so three things
// stand in for it, each honest about another part:
//
//   - samples (filter.go, sample.go, moves.go): 64 chains over maps and mishaps
//     together. After each reading on which they disagree they are drawn anew by
//     the chance that each gave it, and walk on by the Metropolis rule, the
//     longer the larger the pod. They show the many equals of the early work,
//     and are what early sweeps are chosen to tell apart. A map that all of them
//     lost gets its share back (fillin.go);
//   - rivals (rivals.go, variations.go, doubt.go): every map that differs from
//     the best by a change of one link, over every drawing of the best in which
//     other links hang on that one, and those with two contacts side by side in
//     the place of a bridge or a contact (splits.go), priced with runs, those
//     without one claim, as the best is drawn, however many readings seem to speak
//     against; maps further off that samples or searches ever met, until readings refute them
//     (further.go); and on pods of up to four ends and two switches every near
//     map, found by going on from each. There, grades equal a count of all maps;
//   - further links (additions.go, evidence.go): one table holds, for every pair
//     of ends and every condition of up to three positions, by how many bits the
//     readings speak against joining it on top of the best map, so that the
//     weight of thousands of maps with one more link is a sum. The silences of
//     one clip set-up say no more than that the clip had slipped unless a later
//     beep shows that it bit, those of one stand of a lever no more than that
//     the lever was elsewhere. A contact is never dearer than one that makes no
//     sense: what was not read is not vouched for by the look of the rest. A rival
//     that is the best map with one such link, or with a contact closed in one
//     position more, is counted here and not among the rivals again (onemore.go).
//
// What is not vouched for (unresolved.go) is, for each rival that the stop rule does
// not cover, every pair that it sees otherwise, under the levers between which all the
// settings lie in which it does; of all settings, not of those alone that tell maps
// apart elsewhere, since two maps may differ in a chain of links only. With one hand, a
// link of two buttons is covered by no reading: it is named where the look of the rest
// does not speak against it by 6 bits, 11 in an erring hand, and, up to 14, where it
// would reach an end that the hands find nothing to reach.
//
// The best map is where single changes lead down to, from the best so far and
// from the cheapest samples (search.go). Where it calls more than one thing odd, or
// the samples do not agree with it, parts of it are torn out and what makes it
// cheapest is put back link by link, since links that are wrong together keep each
// other in place (rebuild.go).
//
// Three things save work and change nothing: a change of one link is priced only by the
// readings whose nets it touches, which are kept as sets, by slot and by end (ledger.go,
// variations.go, sides.go); the further link that helps most is sought among those
// that explain a beep, without the table of all (join.go); a lever is thought to be
// elsewhere only from where something odd follows (runs.go).
//
// Before the work is called done five more looks must find no doubt: the samples
// are watched walking, and the share of their time spent with other maps is a
// doubt (wander.go); any two links of the best map exchange an end, or both, or one
// leaves a position of a switch to the other, at either of its ends, or to a contact that
// is not there yet (exchange.go); each
// claim of it is turned round, by going down from it with the claim sworn to be false, and
// again after a number of readings (challenge.go); searches from scratch, cooling down
// (search.go); and for each reading that the best map calls odd a search for the cheapest
// map under which it is right (takeSerious).
// All but the first are taken a few a step from when little doubt is left, and the
// rest of them at the last step (looks.go).
//
// The planner (next.go) prices a sweep by bits over bench seconds: how well its
// steps tell the samples apart (a tree of pairs bounds the joint information
// from above), plus the share of all doubt that silences and expected beeps
// would strike, where doubts are weighed by a power of their chance that rises
// to one as the stop rule comes near. A doubt is about two nets, not two ends: a
// reading across any two of their ends strikes all of it (linkdoubt.go). With a
// needle, a silence strikes the doubts between the two nets that the best map has in
// its setting (reach.go), and silences that must be heard some day are worth more while
// the pair is at hand (due.go). Steps are chosen one by one and then put into the
// order that moves least (route.go); bunches by moving one end at a time. A map that must
// believe in a lever elsewhere or a clip off predicts with that until the lever
// or the clip is moved, and what a silence strikes is looked up where the best map
// believes the levers to stand. Silences on clips left alone say together no more than
// that the clip had slipped: from the second on a step is worth little, and a control
// beep is priced by the doubt that it frees the silences to strike (bite.go). So the same
// question is not asked for ever, nor is one that gets no answer (declined.go).
//
// Halves ask most of who knows what is likely. In an erring hand the search may lose the
// map though more than enough is read to tell it, and halves chosen by wrong samples do
// not lead back: then sweeps by bunches cross few pairs (lost.go).
//
// # What clashes
//
// Readings are told to contradict each other (clash.go) where the cheapest map for them
// alone calls one wrong, where having them all right is 5 bits dearer at least, and where
// four fifths of the samples take one of them for wrong: while little is known, the
// cheapest of all maps may call a true beep wrong, a bit before many that do not. Of such
// readings a smallest set is told, any of which dropped ends the clash.
//
// # What it assumes
//
// Continuity is an equivalence in each setting: diodes, lamps and resistances
// need another mode and are read as nothing here (mapping.Reading.Continuity).
// Links of four switches and more are not looked for, links of three only on
// pods whose table of them fits (conds.go).
//
// An Engine folds the readings sweep by sweep in the order in which they were
// taken (several at once in a long session), with random numbers seeded by the
// number of the step, and keeps what it had after a few earlier steps: a reading
// that belongs before the latest goes back to one of these. Infer and Next are the
// same fold from nothing, so the incremental form equals the pure one by
// construction. What a step keeps for the next is a memory of pure functions:
// the explanation of each rival as far as the readings went (courses.go), and the
// fingerprint of each map (signature.go).
package inference
