package recording

import "fmt"

func checkOgg(file []byte) (Info, error) { return Info{}, fmt.Errorf("not yet") }
