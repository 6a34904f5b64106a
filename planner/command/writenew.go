package command

import "os"

// writeNew writes a file that must not be there yet, unless over is true.
func writeNew(path string, data []byte, over bool) error {
	flags := os.O_WRONLY | os.O_CREATE | os.O_EXCL
	if over {
		flags = os.O_WRONLY | os.O_CREATE | os.O_TRUNC
	}
	f, err := os.OpenFile(path, flags, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	return err
}
