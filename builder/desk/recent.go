package desk

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
)

// mostRecent is how many registers are remembered.
const mostRecent = 12

func recentFile() (string, error) {
	base, err := os.UserConfigDir()
	return filepath.Join(base, "yearmark", "registers.json"), err
}

// recent lists the folders of registers opened before that are still there,
// newest first.
func recent() []string {
	name, err := recentFile()
	if err != nil {
		return nil
	}
	data, err := os.ReadFile(name)
	if err != nil {
		return nil
	}
	var list []string
	if json.Unmarshal(data, &list) != nil {
		return nil
	}
	return slices.DeleteFunc(list, func(folder string) bool { return !isRegister(folder) })
}

// remember puts a folder before those opened earlier. A system without a place
// for it remembers nothing.
func remember(folder string) {
	whole, err := filepath.Abs(folder)
	if err != nil {
		return
	}
	list := slices.Insert(slices.DeleteFunc(recent(), func(f string) bool { return f == whole }), 0, whole)
	name, err := recentFile()
	if err != nil || os.MkdirAll(filepath.Dir(name), 0o700) != nil {
		return
	}
	data, _ := json.MarshalIndent(list[:min(len(list), mostRecent)], "", "  ")
	_ = os.WriteFile(name, data, 0o600)
}

// LastUsed is the register opened last that is still there, or empty.
func LastUsed() string {
	if list := recent(); len(list) > 0 {
		return list[0]
	}
	return ""
}
