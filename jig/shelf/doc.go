// Package shelf is the fixture library of a shop: the folder fixtures, in it one
// folder for each fixture, named by the fixture's ID, with the fixture's files
// beside a fixture.toml that says what they were made from. It knows no format:
// files are bytes with an ending.
//
// # What a fixture.toml states
//
// A [Record]: the inputs that were asked for, the setting, mill and sheet that came
// of them, the SHA-256 of every cutter's file, what the shop's file said, the size
// and SHA-256 of every output file, the version of the program, and the history of
// what was measured with the fixture. Lengths are mm. [Parse] is strict and names
// the place of every fault; [Record.Text] writes the same bytes for the same record,
// in one order, one file or one reading a line, so that a change is a small diff.
//
// # What is promised
//
// A folder fixtures/ID is whole at every moment. A writer holds the shelf's lock,
// makes a folder beside it whose name begins with a point, syncs every file and the
// folder, exchanges the two folders in one step of the file system and syncs their
// parent. A kill at any moment leaves the old fixture or the new one, and at most a
// folder with a point, which the next writer removes: while it holds the lock nobody
// else can be making one. Where the file system cannot exchange two folders the old
// one is set aside first, under a name by which readers and the next writer find it.
//
// Readers take no lock. They open a fixture's folder once and read all from there;
// when that fails, and another folder has taken its place meanwhile, they begin
// again.
//
// Nothing is followed out of the shop's folder: IDs and endings are held to their
// form, and links that lead out are refused.
//
// # A later stage of a fixture
//
// Something done to a fixture after it was milled is a [Stage]: its name, what it
// was reckoned from and its own files, ID.ENDING like the others but listed with the
// stage. [Shelf.AddStage] puts one on a fixture that is there, in the same way as
// any other write: all or nothing. The stages stand in [Record.Stages] in the order
// in which they were added; adding one of a name that is there replaces it. They
// belong to the plates as they were milled, so making the fixture anew drops them.
// To have a stage's files proved again by "shelf verify", add its name to what
// posts.Reprove knows; until then their size and hash are held, no more.
package shelf
